#include "app/troublelist.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/severitymark.h"
#include "app/troublerow.h"
#include "app/turnnote.h"
#include "app/widgetstyle.h"

#define SHOWN 60   /* rows; more trouble than that is told as a number */
#define AT_ONCE 8  /* new rows, each some lines to be wrapped; the others follow when the window has drawn */
#define FIRST 12   /* what an ordinary list has, all at once */
#define REST_MS 250

struct _FwTroubleView
{
  GtkWidget parent_instance;

  FwSession *session; /* owned */
  GtkWidget *scroller, *column, *list, *more, *empty;
  const FwDocument *document; /* whose trouble the rows tell; only compared */
  gboolean following; /* the selection comes from the session */
  gboolean was_dragging;
  guint rest;         /* timeout: asks for remedies after a change */
  guint filling;      /* idle: more rows */
};

G_DEFINE_FINAL_TYPE (FwTroubleView, fw_trouble_view, GTK_TYPE_WIDGET)

/* ---- Rows ---- */

static FwTroubleRow *
view_first_row (FwTroubleView *self)
{
  return (FwTroubleRow *) gtk_widget_get_first_child (self->list);
}

static FwTroubleRow *
next_row (FwTroubleRow *row)
{
  return (FwTroubleRow *) gtk_widget_get_next_sibling (GTK_WIDGET (row));
}

static FwTroubleRow *
view_selected_row (FwTroubleView *self)
{
  return (FwTroubleRow *) gtk_list_box_get_selected_row (GTK_LIST_BOX (self->list));
}

static double
crank_distance (double a, double b)
{
  return fabs (remainder (a - b, 2 * G_PI));
}

/* The row that told of this trouble before. A part may be in the same trouble at several crank angles:
 * then it is the nearest of them. Rows in `touched` are spoken for. */
static FwTroubleRow *
view_row_of (FwTroubleView *self, const FwTrouble *trouble, GHashTable *touched)
{
  FwTroubleRow *found = NULL;
  double best = G_MAXDOUBLE;

  for (FwTroubleRow *row = view_first_row (self); row != NULL; row = next_row (row))
    {
      const FwTrouble *told = fw_trouble_row_trouble (row);
      double distance = crank_distance (told->worst, trouble->worst);
      if (!fw_trouble_same (told, trouble) || g_hash_table_contains (touched, row) || distance >= best)
        continue;
      best = distance;
      found = row;
    }
  return found;
}

static int
compare_rows (GtkListBoxRow *a, GtkListBoxRow *b, gpointer data)
{
  int i = fw_trouble_row_index (FW_TROUBLE_ROW (a)), j = fw_trouble_row_index (FW_TROUBLE_ROW (b));
  return (i > j) - (i < j);
}

/* ---- Following the session's list ---- */

static gboolean
told_alike (const FwMechanism *mechanism, const FwTrouble *a, const FwTrouble *b)
{
  return a->severity == b->severity && !fw_trouble_same (a, b) && fw_trouble_twins (mechanism, a, b)
         && fabs (a->value - b->value) <= 0.01 * fabs (a->value) && crank_distance (a->worst, b->worst) < 0.02;
}

/* The same trouble on the other side, later (+1) or earlier (-1) in the list; -1: none. */
static int
find_twin (const FwScene *scene, int index, int direction)
{
  const FwTroubleList *list = scene->troubles;

  for (int i = index + direction; i >= 0 && i < list->n; i += direction)
    if (told_alike (scene->mechanism, &list->items[index], &list->items[i]))
      return i;
  return -1;
}

/* Brings rows up to date in place; returns how many troubles have no row. `touched` gets the rows, `later` how many
 * are still to be made. */
static int
view_update_rows (FwTroubleView *self, const FwScene *scene, GHashTable *touched, int *later)
{
  int left = 0, fresh_rows = 0, most = view_first_row (self) == NULL ? FIRST : AT_ONCE;

  for (int i = 0; i < scene->troubles->n; i++)
    {
      if (find_twin (scene, i, -1) >= 0)
        continue;
      FwTroubleRow *row = view_row_of (self, &scene->troubles->items[i], touched);
      if (row == NULL && fresh_rows >= most && (int) g_hash_table_size (touched) + *later < SHOWN)
        {
          (*later)++;
          continue;
        }
      if (row == NULL && (int) g_hash_table_size (touched) + *later >= SHOWN)
        {
          left++;
          continue;
        }
      gboolean fresh = row == NULL;
      fresh_rows += fresh;
      if (fresh)
        row = FW_TROUBLE_ROW (fw_trouble_row_new (self->session));
      fw_trouble_row_set (row, i, find_twin (scene, i, 1));
      if (fresh)
        gtk_list_box_append (GTK_LIST_BOX (self->list), GTK_WIDGET (row));
      g_hash_table_add (touched, row);
    }
  return left;
}

/* What is gone goes; the picked one, while a number is dragged, stays and says that it is mended. */
static void
view_drop_rows (FwTroubleView *self, GHashTable *touched)
{
  FwTroubleRow *selected = view_selected_row (self), *next;

  for (FwTroubleRow *row = view_first_row (self); row != NULL; row = next)
    {
      next = next_row (row);
      if (g_hash_table_contains (touched, row))
        continue;
      if (row == selected && fw_session_dragging (self->session))
        fw_trouble_row_set_mended (row);
      else
        gtk_list_box_remove (GTK_LIST_BOX (self->list), GTK_WIDGET (row));
    }
}

static void
view_show_rest (FwTroubleView *self, int left)
{
  gboolean open = fw_session_document (self->session) != NULL;
  gboolean none = view_first_row (self) == NULL;
  char *words = g_strdup_printf (ngettext ("And %d more, less bad than these.", "And %d more, less bad than these.",
                                           left), left);

  gtk_label_set_text (GTK_LABEL (self->more), words);
  gtk_widget_set_visible (self->more, left > 0);
  gtk_widget_set_visible (self->list, !none);
  gtk_widget_set_visible (self->empty, none && open && fw_session_turn_is_known (self->session));
  g_free (words);
}

static void
view_select_picked (FwTroubleView *self)
{
  int picked = fw_session_picked_trouble (self->session);
  FwTroubleRow *row = view_first_row (self), *selected = view_selected_row (self);
  gboolean mended = selected != NULL && fw_trouble_row_index (selected) < 0;

  while (row != NULL && !fw_trouble_row_has (row, picked))
    row = next_row (row);
  if (row == NULL && mended)
    return;
  self->following = TRUE;
  gtk_list_box_select_row (GTK_LIST_BOX (self->list), (GtkListBoxRow *) row);
  self->following = FALSE;
}

static void
view_show_remedies (FwTroubleView *self)
{
  FwTroubleRow *selected = view_selected_row (self);

  for (FwTroubleRow *row = view_first_row (self); row != NULL; row = next_row (row))
    if (row != selected)
      fw_trouble_row_show_remedies (row, FALSE);
  if (selected != NULL)
    fw_trouble_row_show_remedies (selected, TRUE);
}

static gboolean
on_rest (gpointer data)
{
  FwTroubleView *self = data;

  self->rest = 0;
  if (!fw_session_dragging (self->session) && fw_session_turn_is_known (self->session))
    view_show_remedies (self);
  return G_SOURCE_REMOVE;
}

/* The old ones stand, not to be pressed, until the design has been at rest for a moment. */
static void
view_ask_remedies_soon (FwTroubleView *self)
{
  FwTroubleRow *selected = view_selected_row (self);

  if (selected != NULL)
    fw_trouble_row_hold_remedies (selected);
  g_clear_handle_id (&self->rest, g_source_remove);
  self->rest = g_timeout_add (REST_MS, on_rest, self);
}

/* The rows stand as they were, and nothing happens when they are pressed, until the turn is known; those of another
 * design go. */
static gboolean
view_waits (FwTroubleView *self)
{
  const FwDocument *document = fw_session_document (self->session);
  gboolean waits = document != NULL && !fw_session_turn_is_known (self->session);
  FwTroubleRow *selected = view_selected_row (self);

  gtk_widget_set_opacity (self->list, waits ? 0.5 : 1);
  gtk_accessible_update_state (GTK_ACCESSIBLE (self->list), GTK_ACCESSIBLE_STATE_BUSY, waits, -1);
  if (waits && selected != NULL)
    fw_trouble_row_hold_remedies (selected);
  if (document == self->document && waits)
    return TRUE;
  self->document = document;
  return FALSE;
}

static gboolean on_fill (gpointer data);

/* Rows as far as they are made now. */
static void
view_fill (FwTroubleView *self)
{
  const FwScene *scene = fw_session_scene (self->session);
  int left = 0, later = 0;

  g_clear_handle_id (&self->filling, g_source_remove);
  if (view_waits (self))
    return;
  GHashTable *touched = g_hash_table_new (NULL, NULL);
  if (scene != NULL && scene->troubles != NULL)
    left = view_update_rows (self, scene, touched, &later);
  view_drop_rows (self, touched);
  g_hash_table_unref (touched);
  /* Rows change places only when nobody is looking at one of them change. */
  if (!fw_session_dragging (self->session))
    gtk_list_box_invalidate_sort (GTK_LIST_BOX (self->list));
  view_show_rest (self, left);
  view_select_picked (self);
  if (later > 0)
    self->filling = g_idle_add_full (G_PRIORITY_LOW, on_fill, self, NULL);
}

static gboolean
on_fill (gpointer data)
{
  FwTroubleView *self = data;

  self->filling = 0;
  view_fill (self);
  return G_SOURCE_REMOVE;
}

static void
view_update (FwTroubleView *self)
{
  view_fill (self);
  if (fw_session_document (self->session) == NULL || fw_session_turn_is_known (self->session))
    view_ask_remedies_soon (self);
}

/* ---- Signals ---- */

static void
on_display (FwTroubleView *self)
{
  gboolean dragging = fw_session_dragging (self->session);
  gboolean let_go = self->was_dragging && !dragging;

  self->was_dragging = dragging;
  if (let_go || !dragging)
    view_update (self);
}

static void
on_picked (FwTroubleView *self)
{
  if (!fw_session_turn_is_known (self->session))
    return;
  view_select_picked (self);
  view_show_remedies (self);
}

static void
on_remedies (FwTroubleView *self, guint trouble)
{
  FwTroubleRow *selected = view_selected_row (self);

  if (selected != NULL && fw_trouble_row_has (selected, (int) trouble) && self->rest == 0)
    fw_trouble_row_show_remedies (selected, TRUE);
}

static void
on_row (FwTroubleView *self, GtkListBoxRow *row)
{
  if (self->following || row == NULL || fw_trouble_row_index (FW_TROUBLE_ROW (row)) < 0
      || !fw_session_turn_is_known (self->session))
    return;
  fw_session_pick_trouble (self->session, fw_trouble_row_index (FW_TROUBLE_ROW (row)));
}

/* ---- Object ---- */

static void
trouble_view_dispose (GObject *object)
{
  FwTroubleView *self = FW_TROUBLE_VIEW (object);

  g_clear_handle_id (&self->rest, g_source_remove);
  g_clear_handle_id (&self->filling, g_source_remove);
  self->following = TRUE;
  fw_widget_drop_children (GTK_WIDGET (self));
  g_clear_object (&self->session);
  G_OBJECT_CLASS (fw_trouble_view_parent_class)->dispose (object);
}

static void
fw_trouble_view_class_init (FwTroubleViewClass *class)
{
  G_OBJECT_CLASS (class)->dispose = trouble_view_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (class), "trouble-view");
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (class), GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
fw_trouble_view_init (FwTroubleView *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));

  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  fw_widget_style_add ();
  gtk_widget_add_css_class (GTK_WIDGET (self), "trouble-view");
  fw_widget_describe (GTK_WIDGET (self), _("Trouble"), NULL);
}

static GtkWidget *
view_empty (FwTroubleView *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  GtkWidget *mark = fw_severity_mark_new (self->session, 40);
  GtkWidget *words = gtk_label_new (_("Goes round free of trouble."));
  GtkWidget *more = gtk_label_new (_("Every rod closes, nothing touches, and each push is firm."));

  fw_severity_mark_set (mark, FW_SIGN_WELL, 0);
  gtk_widget_set_halign (mark, GTK_ALIGN_CENTER);
  gtk_widget_set_margin_bottom (mark, 6);
  gtk_widget_add_css_class (words, "free-of-trouble");
  gtk_widget_add_css_class (more, "dim-label");
  gtk_label_set_wrap (GTK_LABEL (words), TRUE);
  gtk_label_set_wrap (GTK_LABEL (more), TRUE);
  gtk_label_set_justify (GTK_LABEL (words), GTK_JUSTIFY_CENTER);
  gtk_label_set_justify (GTK_LABEL (more), GTK_JUSTIFY_CENTER);
  gtk_box_append (GTK_BOX (box), mark);
  gtk_box_append (GTK_BOX (box), words);
  gtk_box_append (GTK_BOX (box), more);
  gtk_widget_set_valign (box, GTK_ALIGN_CENTER);
  gtk_widget_set_vexpand (box, TRUE);
  gtk_widget_set_margin_top (box, 24);
  gtk_widget_set_margin_bottom (box, 24);
  gtk_widget_set_margin_start (box, 12);
  gtk_widget_set_margin_end (box, 12);
  return box;
}

static void
trouble_view_add_children (FwTroubleView *self)
{
  self->list = gtk_list_box_new ();
  gtk_widget_add_css_class (self->list, "trouble-list");
  gtk_list_box_set_sort_func (GTK_LIST_BOX (self->list), compare_rows, NULL, NULL);
  fw_widget_describe (self->list, _("Trouble, worst first"), NULL);
  g_signal_connect_swapped (self->list, "row-selected", G_CALLBACK (on_row), self);
  g_signal_connect_swapped (self->list, "row-activated", G_CALLBACK (on_row), self);
  self->more = fw_note_label ("");
  gtk_widget_add_css_class (self->more, "dim-label");
  gtk_widget_set_margin_start (self->more, 12);
  self->empty = view_empty (self);
  self->column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_box_append (GTK_BOX (self->column), self->list);
  gtk_box_append (GTK_BOX (self->column), self->more);
  gtk_box_append (GTK_BOX (self->column), self->empty);
  self->scroller = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (self->scroller), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  fw_widget_describe (self->scroller, _("Trouble"), NULL);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->scroller), self->column);
  gtk_widget_set_vexpand (self->scroller, TRUE);
  gtk_widget_set_parent (self->scroller, GTK_WIDGET (self));
  gtk_widget_set_parent (fw_turn_note_new (self->session), GTK_WIDGET (self)); /* below: the rows stand still when it comes */
}

GtkWidget *
fw_trouble_view_new (FwSession *session)
{
  FwTroubleView *self = g_object_new (FW_TYPE_TROUBLE_VIEW, NULL);

  self->session = g_object_ref (session);
  trouble_view_add_children (self);
  g_signal_connect_object (session, "design-changed", G_CALLBACK (view_update), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "display-changed", G_CALLBACK (on_display), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "picked-changed", G_CALLBACK (on_picked), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "remedies-changed", G_CALLBACK (on_remedies), self, G_CONNECT_SWAPPED);
  view_update (self);
  return GTK_WIDGET (self);
}

void
fw_trouble_view_focus (FwTroubleView *self)
{
  g_return_if_fail (FW_IS_TROUBLE_VIEW (self));
  FwTroubleRow *selected = view_selected_row (self);

  if (selected != NULL)
    gtk_widget_grab_focus (GTK_WIDGET (selected));
  else
    gtk_widget_child_focus (GTK_WIDGET (self), GTK_DIR_TAB_FORWARD);
}
