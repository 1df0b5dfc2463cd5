/* One number as a cause: its name, its share as a bar, its spread to type. */
#pragma once

#include <gtk/gtk.h>

#include "aim/tolerance.h"
#include "app/session.h"

G_BEGIN_DECLS

typedef struct
{
  double share[3]; /* of the right-hand, the one in the middle, the left-hand piece; 0..1 */
  double stops;    /* of going round or not, all pieces together, 0..1 */
  double most;     /* the greatest share of any number: a full bar */
  gboolean known;
} FwToleranceShare;

#define FW_TYPE_TOLERANCE_ROW (fw_tolerance_row_get_type ())
G_DECLARE_FINAL_TYPE (FwToleranceRow, fw_tolerance_row, FW, TOLERANCE_ROW, GtkListBoxRow)

GtkWidget *fw_tolerance_row_new (FwSession *session, FwParam param);

/* Before it goes, as the design may be another by now: what was typed is not taken any more. */
void fw_tolerance_row_let_go (FwToleranceRow *self);

FwParam fw_tolerance_row_param (FwToleranceRow *self);
double fw_tolerance_row_share (FwToleranceRow *self); /* all pieces together */

void fw_tolerance_row_set_share (FwToleranceRow *self, const FwToleranceShare *share);

/* `spread` in file units; `stated`: in the file, else it is the default. Takes the number's name anew too. */
void fw_tolerance_row_set_spread (FwToleranceRow *self, double spread, gboolean stated);

/* A share 0..1 as a percentage with so many digits, never rounded up to certainty; g_free (). */
char *fw_tolerance_percent (double share, int digits);

/* Fills a GtkGrid anew: in how many of the sets each kind of trouble is, none left out but those that are in none.
 * `t` may be NULL: nothing is known. The grid is in sight only if it says something. */
void fw_tolerance_kinds_fill (GtkWidget *grid, const FwTolerance *t);

/* A page of the margin that is reached by the menu: its title and a button that emits "closed" of `page`. */
GtkWidget *fw_real_heading (GtkWidget *page, const char *title);

G_END_DECLS
