/* The inside of the workshop, shared by the files that make it up. */
#pragma once

#include "app/messagebar.h"
#include "app/session.h"
#include "app/workshoplaid.h"
#include "app/workshoppages.h"

G_BEGIN_DECLS

#define FW_TYPE_WORKSHOP (fw_workshop_get_type ())
G_DECLARE_FINAL_TYPE (FwWorkshop, fw_workshop, FW, WORKSHOP, GtkWindow)

/* ---- workshop.c ---- */

FwSession *fw_workshop_session (FwWorkshop *self);
FwMessageBar *fw_workshop_messages (FwWorkshop *self);
const FwLaidOrder *fw_workshop_order (FwWorkshop *self);

/* Something else was chosen: all is laid out anew. */
void fw_workshop_set_order (FwWorkshop *self, const FwLaidOrder *order);

/* What was laid out last; NULL: nothing yet. */
FwLaid *fw_workshop_laid (FwWorkshop *self);

/* Colours and type for what is drawn on the screen; `size` as of fw_style (). */
FwStyle fw_workshop_style (FwWorkshop *self, double size);

/* "heron" of the design's file, else of its title: to begin a file's name with. g_free. */
char *fw_workshop_stem (FwWorkshop *self);

/* The folder the design is in; NULL. g_free. */
char *fw_workshop_folder (FwWorkshop *self);

/* Pages are widgets that keep this of theirs. */
typedef struct
{
  void (*laid) (GtkWidget *page, const FwLaid *laid);    /* new things to show */
  void (*display) (GtkWidget *page, FwWorkshop *self);   /* light or dark, lengths; may be NULL */
} FwWorkshopPage;
void fw_workshop_page_set (GtkWidget *page, const FwWorkshopPage *calls);

/* What has the keyboard when the page comes in sight; else the first that can have it. */
void fw_workshop_page_set_first (GtkWidget *page, GtkWidget *first);
void fw_workshop_page_focus (GtkWidget *page);

/* A row of buttons and choices along the foot of a page. */
GtkWidget *fw_workshop_foot (void);
/* A choice with its name beside it. */
GtkWidget *fw_workshop_foot_add (GtkWidget *foot, const char *mnemonic, GtkWidget *control);
GtkWidget *fw_workshop_foot_button (GtkWidget *foot, const char *mnemonic, GCallback pressed, gpointer data);
/* What follows stands at the right. */
void fw_workshop_foot_gap (GtkWidget *foot);

/* Sentences on what cannot be made, as a caution; hidden while there are none. */
GtkWidget *fw_workshop_caution (void);
void fw_workshop_caution_set (GtkWidget *caution, char *const *sentences, int n);

/* ---- the pages ---- */

GtkWidget *fw_workshop_cut_new (FwWorkshop *self);
GtkWidget *fw_workshop_templates_new (FwWorkshop *self);
GtkWidget *fw_workshop_parts_new (FwWorkshop *self);
GtkWidget *fw_workshop_kit_new (FwWorkshop *self);
GtkWidget *fw_workshop_making_new (FwWorkshop *self); /* the crank as made, and the stock */

/* ---- workshopexport.c ---- */

/* Writes to `path` (a file or a folder) from `laid`; called beside the main loop, on a `laid` of its own. What was
 * written goes to `done`, a sentence (may be left NULL). FALSE: error set, nothing was left. */
typedef gboolean (*FwWorkshopWrite) (const FwLaid *laid, const char *path, const FwProgress *progress, char **done,
                                     GError **error);

typedef struct
{
  const char *title;       /* of the window that asks where to */
  const char *filter_name; /* NULL: a folder is asked for */
  const char *ending;      /* ".pdf" */
  const char *behind;      /* put behind the design's name: "-templates"; NULL */
  FwWorkshopWrite write;
} FwWorkshopExport;

/* Asks where to, then writes with a bar that shows how far it is and a button that stops it. */
void fw_workshop_export (FwWorkshop *self, const FwWorkshopExport *what);

/* The bar; hidden while nothing is written. */
GtkWidget *fw_workshop_progress_new (FwWorkshop *self);
void fw_workshop_progress_stop (GtkWidget *bar); /* the window goes */

/* ---- workshopprint.c ---- */

typedef struct
{
  int n_pages;
  double width_mm, height_mm; /* of the paper, upright or not */
  const char *name;           /* of the job */
  FwPageDraw draw;
  FwLaid *laid; /* a reference is kept while it prints */
} FwWorkshopPrint;

/* Opens the system's print dialog. Pages come out at true size. */
void fw_workshop_print (FwWorkshop *self, const FwWorkshopPrint *what);

G_END_DECLS
