/* One entry of the build log as the log's window shows it, or the present design where that is not
 * logged yet. What takes long to find out arrives later; "changed" is emitted then. */
#pragma once

#include <gtk/gtk.h>

#include "doc/log.h"

G_BEGIN_DECLS

#define FW_TYPE_LOG_ITEM (fw_log_item_get_type ())
G_DECLARE_FINAL_TYPE (FwLogItem, fw_log_item, FW, LOG_ITEM, GObject)

/* A picture beside the design. */
typedef struct
{
  char *file, *caption;
  GdkTexture *texture; /* NULL: not read yet, or it cannot be */
  char *why;           /* why it cannot be read; NULL */
} FwLogPhoto;

struct _FwLogItem
{
  GObject parent_instance;

  int index;           /* of the entry; the number of entries for the present design */
  gboolean present;
  char *date, *note, *title;
  GArray *photos;      /* FwLogPhoto */
  gconstpointer key, before; /* fw_log_design_key () of this entry and of the one before */

  GPtrArray *changes, *effects, *troubles; /* FwLogLine; NULL: not known yet, effects of the first: empty */
  gboolean failed;     /* the design cannot be solved: no memory */
  GdkTexture *strip;   /* NULL: not drawn yet, or let go again */
  gboolean photos_read;

  gboolean unfolded;   /* all lines in sight, not the first few */
  gboolean in_sight;   /* near what the window shows now */
  guint64 seen;        /* when it was so last, counted in looks */
};

/* `index`: see there. */
FwLogItem *fw_log_item_new (const FwDocument *doc, int index);

/* That both stand for the same entry, with the same note and at the same place. */
gboolean fw_log_item_same (const FwLogItem *a, const FwLogItem *b);
/* Takes what is known of the same design from another one. */
void fw_log_item_take (FwLogItem *self, FwLogItem *from);
/* Forgets lines; or strips, when the colours change. */
void fw_log_item_forget (FwLogItem *self, gboolean lines, gboolean strip);
void fw_log_item_changed (FwLogItem *self);

/* "3.  2026-04-02", "Since then, not logged yet". Free with g_free. */
char *fw_log_item_heading (const FwLogItem *self);

G_END_DECLS
