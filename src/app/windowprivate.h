/* The inside of a window, shared by the files that make it up. */
#pragma once

#include "app/canvas.h"
#include "app/diskwatch.h"
#include "app/inspector.h"
#include "app/loadspage.h"
#include "app/player.h"
#include "app/stripview.h"
#include "app/troublelist.h"
#include "app/window.h"

G_BEGIN_DECLS

typedef enum { FW_PAGE_FRONT, FW_PAGE_SIDE, FW_PAGE_BOTH, FW_PAGE_THREE_QUARTER, FW_N_PAGES } FwPage;

struct _FwWindow
{
  GtkApplicationWindow parent_instance;

  /* template */
  GtkWidget *title, *subtitle;
  GtkWidget *new_button, *open_button, *recent_button, *save_button, *undo_button, *redo_button;
  GtkWidget *page_front, *page_side, *page_both, *page_three_quarter;
  GtkWidget *lengths_mm, *lengths_inch;
  GtkWidget *show_button, *show_list, *export_button, *export_more, *margin_button, *menu_button;
  GtkWidget *steps_place, *overlay, *outer_split, *upright_split, *views_split, *margin_split, *empty;
  GtkWidget *margin, *margin_stack; /* pages: "numbers", "loads" */
  GMenu *main_menu, *recent_menu, *export_menu;

  /* made here, owned by their parents */
  GtkWidget *canvas[2]; /* front (or three-quarter), side */
  GtkWidget *strip, *player, *inspector, *troubles, *steps;

  FwSettings *settings; /* borrowed: the application's */

  /* owned */
  FwMessageBar *messages;
  FwSession *session;
  FwKeeper *keeper;
  FwDiskWatch *watch;

  FwPage page;
  gboolean closing;    /* was asked about */
  gboolean gone_clean; /* its file has gone, and it had no changes then */
};

/* windowactions.c */
void fw_window_add_actions (FwWindow *self);
void fw_window_actions_update (FwWindow *self);

/* window.c */
/* The page of the margin that has this name, made now if it was not yet; NULL: there is none. */
GtkWidget *fw_window_page (FwWindow *self, const char *name);
void fw_window_set_page (FwWindow *self, FwPage page);

G_END_DECLS
