/* The play clock and its bar: play backwards, pause, play forwards, speed.
 *
 * Plays in real time: a slow frame is left out and never stretches time. While it is paused nothing
 * is redrawn. Style class "player".
 *
 * Properties: "playing" (boolean), "speed" (double, turns/min, negative: backwards). */
#pragma once

#include <gtk/gtk.h>

#include "app/session.h"

G_BEGIN_DECLS

#define FW_TYPE_PLAYER (fw_player_get_type ())
G_DECLARE_FINAL_TYPE (FwPlayer, fw_player, FW, PLAYER, GtkWidget)

GtkWidget *fw_player_new (FwSession *session);

void fw_player_set_playing (FwPlayer *self, gboolean playing);
gboolean fw_player_playing (FwPlayer *self);

/* Turns/min, signed, -600..600. A new document sets it to the design's own speed. */
void fw_player_set_speed (FwPlayer *self, double turns_per_minute);
double fw_player_speed (FwPlayer *self);

G_END_DECLS
