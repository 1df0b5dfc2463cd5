#include "app/inspector.h"

#include <glib/gi18n.h>
#include <string.h>

#include "app/grouplist.h"
#include "app/parttools.h"
#include "app/widgetstyle.h"

#define ASK_MS 150     /* of rest before bands are asked for */
#define FOUND_ROOM 60  /* rows a search shows at most */

struct _FwInspector
{
  GtkWidget parent_instance;

  FwSession *session; /* owned */
  GtkWidget *search, *scroller, *list, *note;
  FwGroupList *groups; /* NULL: none yet */
  GArray *params;     /* FwParam: those the groups were made for */
  char *names;        /* of the parts the groups were made for */
  GPtrArray *words;   /* folded name of each number; NULL until the first search */

  const FwDocument *document; /* last seen; only compared */
  FwDesign *opened;           /* owned: the document as it was when it came */
  guint ask;                  /* timeout */
  guint scroll_tick;
  int scroll_frames;
  FwPartKey scroll_to;
};

G_DEFINE_FINAL_TYPE (FwInspector, fw_inspector, GTK_TYPE_WIDGET)

/* ---- The saved values ---- */

/* From the file as it is on disk, or for a design never saved, as it came. */
static gboolean
inspector_saved_value (gpointer data, FwParam param, double *value)
{
  FwInspector *self = data;
  const char *path = fw_session_path (self->session);
  FwDocument *saved = path != NULL ? fw_document_load (path, NULL) : NULL;
  const FwDesign *design = saved != NULL ? fw_document_design (saved) : self->opened;
  char *key = fw_param_path (fw_document_design (fw_session_document (self->session)), param);
  FwParam there;

  gboolean found = design != NULL && key != NULL && fw_param_from_path (design, key, &there);
  if (found)
    *value = fw_param_get (design, there);
  g_free (key);
  fw_document_free (saved);
  return found;
}

/* ---- All rows ---- */

static int
inspector_length (FwInspector *self)
{
  return self->groups != NULL ? fw_group_list_length (self->groups) : 0;
}

static void
inspector_foreach (FwInspector *self, void (*f) (FwParamRow *row, gpointer data), gpointer data)
{
  for (int i = 0; i < inspector_length (self); i++)
    fw_param_group_foreach (fw_group_list_nth (self->groups, i), f, data);
}

/* ---- Bands ---- */

static gboolean
row_is_in_sight (FwInspector *self, FwParamRow *row)
{
  graphene_rect_t bounds;

  if (!gtk_widget_get_mapped (GTK_WIDGET (row))
      || !gtk_widget_compute_bounds (GTK_WIDGET (row), self->scroller, &bounds))
    return FALSE;
  return bounds.origin.y + bounds.size.height > 0
         && bounds.origin.y < (float) gtk_widget_get_height (self->scroller);
}

static void
row_ask (FwParamRow *row, gpointer data)
{
  if (row_is_in_sight (data, row))
    fw_param_row_ask_bands (row);
}

static gboolean
on_ask (gpointer data)
{
  FwInspector *self = data;

  self->ask = 0;
  inspector_foreach (self, row_ask, self);
  return G_SOURCE_REMOVE;
}

static void
inspector_ask_soon (FwInspector *self)
{
  g_clear_handle_id (&self->ask, g_source_remove);
  if (gtk_widget_get_mapped (GTK_WIDGET (self)))
    self->ask = g_timeout_add_full (G_PRIORITY_DEFAULT_IDLE, ASK_MS, on_ask, self, NULL); /* frames first */
}

static void
on_bands (FwInspector *self, guint index)
{
  for (int i = 0; i < inspector_length (self); i++)
    {
      FwParamRow *row = fw_param_group_row (fw_group_list_nth (self->groups, i), (int) index);
      if (row != NULL)
        fw_param_row_ask_bands (row);
    }
}

/* ---- Search ---- */

static void
inspector_make_words (FwInspector *self)
{
  const FwDesign *design = fw_document_design (fw_session_document (self->session));
  int n;
  const FwParam *params = fw_session_params (self->session, &n);

  self->words = g_ptr_array_new_full ((guint) n, g_free);
  for (int i = 0; i < n; i++)
    {
      char *group = fw_param_group (design, params[i]);
      char *label = fw_param_label (design, params[i]);
      char *short_label = fw_param_short_label (design, params[i]);
      char *all = g_strjoin (" ", group, short_label, label, NULL);

      g_ptr_array_add (self->words, g_utf8_casefold (all, -1));
      g_free (group);
      g_free (label);
      g_free (short_label);
      g_free (all);
    }
}

/* Every typed word must be there, in any order. */
static gboolean
words_hold (const char *words, char **typed)
{
  for (int i = 0; typed[i] != NULL; i++)
    if (strstr (words, typed[i]) == NULL)
      return FALSE;
  return TRUE;
}

static void
inspector_show_note (FwInspector *self, int matches, int shown)
{
  char *words = NULL;

  if (matches == 0)
    words = g_strdup (_("No number has that in its name."));
  else if (matches > shown)
    words = g_strdup_printf (ngettext ("%d more number has that in its name: type more of it.",
                                       "%d more numbers have that in their name: type more of it.",
                                       matches - shown), matches - shown);
  gtk_label_set_text (GTK_LABEL (self->note), words != NULL ? words : "");
  gtk_widget_set_visible (self->note, words != NULL);
  g_free (words);
}

static void
inspector_show_found (FwInspector *self, char **typed)
{
  int matches = 0, shown = 0;
  gboolean *wanted = g_new0 (gboolean, MAX (self->params->len, 1));
  int at = 0;

  if (self->words == NULL)
    inspector_make_words (self);
  for (guint i = 0; i < self->params->len; i++)
    matches += wanted[i] = words_hold (self->words->pdata[i], typed);
  for (int i = 0; i < inspector_length (self); i++)
    {
      FwParamGroup *group = fw_group_list_nth (self->groups, i);
      gboolean any = FALSE;
      for (int k = 0; k < fw_param_group_size (group) && shown < FOUND_ROOM; k++)
        any = any || wanted[at + k];
      if (any)
        fw_group_list_show (self->groups, group);
      shown += fw_param_group_filter (group, wanted + at, FOUND_ROOM - shown);
      at += fw_param_group_size (group);
    }
  g_free (wanted);
  inspector_show_note (self, matches, shown);
}

static void
on_search (FwInspector *self)
{
  char *folded = g_utf8_casefold (gtk_editable_get_text (GTK_EDITABLE (self->search)), -1);
  char *typed = g_strstrip (folded);

  if (fw_session_document (self->session) == NULL)
    ;
  else if (*typed == '\0')
    {
      for (int i = 0; i < inspector_length (self); i++)
        fw_param_group_filter (fw_group_list_nth (self->groups, i), NULL, 0);
      gtk_widget_set_visible (self->note, FALSE);
    }
  else
    {
      char **parts = g_strsplit_set (typed, " \t", -1);
      inspector_show_found (self, parts);
      g_strfreev (parts);
    }
  if (self->groups != NULL)
    fw_group_list_set_searching (self->groups, *typed != '\0');
  g_free (folded);
  inspector_ask_soon (self);
}

/* Enter goes to the first number found. */
static void
on_search_activate (FwInspector *self)
{
  on_search (self);
  for (int i = 0; i < inspector_length (self); i++)
    {
      FwParamRow *row = fw_param_group_first_shown (fw_group_list_nth (self->groups, i));
      if (row == NULL)
        continue;
      fw_param_row_focus (row);
      return;
    }
}

static void
on_search_stop (FwInspector *self)
{
  gtk_editable_set_text (GTK_EDITABLE (self->search), "");
}

/* ---- The picked part ---- */

static FwParamGroup *
inspector_group (FwInspector *self, FwPartKey key)
{
  return self->groups != NULL ? fw_group_list_find (self->groups, key) : NULL;
}

static void
inspector_open_group (FwInspector *self, FwParamGroup *group)
{
  fw_group_list_show (self->groups, group);
  fw_param_group_open (group);
}

static void
inspector_bring_into_sight (FwInspector *self, FwParamGroup *group)
{
  GtkAdjustment *adjustment = gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (self->scroller));
  graphene_rect_t bounds;

  if (!gtk_widget_compute_bounds (fw_param_group_widget (group), self->list, &bounds))
    return;
  double top = bounds.origin.y, bottom = top + bounds.size.height;
  double from = gtk_adjustment_get_value (adjustment), page = gtk_adjustment_get_page_size (adjustment);
  if (top < from || bottom > from + page)
    gtk_adjustment_set_value (adjustment, bottom - top > page || top < from ? top : bottom - page);
}

/* A group that has just opened has its size after the next layout. */
static gboolean
on_scroll_tick (GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
  FwInspector *self = FW_INSPECTOR (widget);
  FwParamGroup *group = inspector_group (self, self->scroll_to);

  if (++self->scroll_frames < 3)
    return G_SOURCE_CONTINUE;
  self->scroll_tick = 0;
  if (group != NULL)
    inspector_bring_into_sight (self, group);
  return G_SOURCE_REMOVE;
}

/* A search would hide what was picked. */
static void
inspector_end_search (FwInspector *self)
{
  if (*gtk_editable_get_text (GTK_EDITABLE (self->search)) == '\0')
    return;
  gtk_editable_set_text (GTK_EDITABLE (self->search), "");
  on_search (self);
}

/* Marks the heading of the picked part, and no other; NULL: it has none. */
static FwParamGroup *
inspector_mark_picked (FwInspector *self)
{
  const FwPart *part = fw_session_picked (self->session);
  const FwMechanism *mechanism = fw_session_scene (self->session)->mechanism;
  FwParamGroup *picked = part != NULL ? inspector_group (self, fw_part_key_of_part (mechanism, *part)) : NULL;

  if (picked != NULL)
    fw_group_list_show (self->groups, picked);
  for (int i = 0; i < inspector_length (self); i++)
    fw_param_group_set_picked (fw_group_list_nth (self->groups, i), fw_group_list_nth (self->groups, i) == picked);
  return picked;
}

static void
on_picked (FwInspector *self)
{
  FwParamGroup *picked = inspector_mark_picked (self);

  if (picked == NULL)
    return;
  self->scroll_to = fw_param_group_key (picked);
  inspector_end_search (self);
  inspector_open_group (self, picked);
  self->scroll_frames = 0;
  if (self->scroll_tick == 0)
    self->scroll_tick = gtk_widget_add_tick_callback (GTK_WIDGET (self), on_scroll_tick, NULL, NULL);
  inspector_ask_soon (self);
}

/* ---- Groups ---- */

static char *
part_names (const FwDesign *design)
{
  GString *names = g_string_new (NULL);

  for (int i = 0; i < design->crank.n_throws; i++)
    g_string_append_printf (names, "%s\n", design->crank.throws[i].name);
  for (int i = 0; i < design->n_panels; i++)
    g_string_append_printf (names, "%s\n", design->panels[i].name);
  for (int i = 0; i < design->n_rods; i++)
    g_string_append_printf (names, "%s\n", design->rods[i].name);
  for (int i = 0; i < design->n_springs; i++)
    g_string_append_printf (names, "%s\n", design->springs[i].name);
  for (int i = 0; i < design->crank.n_weights; i++)
    g_string_append_printf (names, "%s\n", design->crank.weights[i].name);
  for (int i = 0; i < design->body.n_lumps; i++)
    g_string_append_printf (names, "%s\n", design->body.lumps[i].name);
  return g_string_free (names, FALSE);
}

static gboolean
inspector_fits (FwInspector *self, const FwParam *params, int n, const char *names)
{
  if ((guint) n != self->params->len || g_strcmp0 (names, self->names) != 0)
    return FALSE;
  for (int i = 0; i < n; i++)
    if (!fw_param_equal (params[i], g_array_index (self->params, FwParam, i)))
      return FALSE;
  return TRUE;
}

static void
inspector_make_groups (FwInspector *self)
{
  const FwGroupCalls calls = { self->session, inspector_saved_value, self, G_CALLBACK (inspector_ask_soon), self };
  GArray *open = g_array_new (FALSE, FALSE, sizeof (FwPartKey)); /* what was open stays so */

  for (int i = 0; i < inspector_length (self); i++)
    if (fw_param_group_is_open (fw_group_list_nth (self->groups, i)))
      {
        FwPartKey key = fw_param_group_key (fw_group_list_nth (self->groups, i));
        g_array_append_val (open, key);
      }
  /* Out of the list before they go: a slider in a hand tells so, and that is announced to all who are in it. */
  fw_group_list_free (g_steal_pointer (&self->groups));
  g_clear_pointer (&self->words, g_ptr_array_unref);
  self->groups = fw_group_list_new (GTK_BOX (self->list), &calls, (const FwParam *) self->params->data, (int) self->params->len);
  if (inspector_length (self) > 0 && open->len == 0)
    inspector_open_group (self, fw_group_list_nth (self->groups, 0));
  for (guint i = 0; i < open->len; i++)
    {
      FwParamGroup *group = inspector_group (self, g_array_index (open, FwPartKey, i));
      if (group != NULL)
        inspector_open_group (self, group);
    }
  g_array_unref (open);
}

static void
row_refresh (FwParamRow *row, gpointer data)
{
  fw_param_row_refresh (row);
}

static void
row_refresh_design (FwParamRow *row, gpointer data)
{
  fw_param_row_refresh (row);
  fw_param_row_stale_bands (row);
}

static void
inspector_take_document (FwInspector *self, const FwDocument *doc)
{
  if (doc == self->document)
    return;
  self->document = doc;
  g_clear_pointer (&self->opened, fw_design_free);
  self->opened = fw_design_copy (fw_document_design (doc));
}

static void
on_design (FwInspector *self)
{
  const FwDocument *doc = fw_session_document (self->session);
  int n;

  if (doc == NULL)
    return;
  inspector_take_document (self, doc);
  const FwParam *params = fw_session_params (self->session, &n);
  char *names = part_names (fw_document_design (doc));
  if (inspector_fits (self, params, n, names))
    {
      inspector_foreach (self, row_refresh_design, NULL);
      g_free (names);
    }
  else
    {
      g_free (self->names);
      self->names = names;
      g_array_set_size (self->params, 0);
      g_array_append_vals (self->params, params, (guint) n);
      inspector_make_groups (self);
      inspector_mark_picked (self);
      on_search (self);
    }
  inspector_ask_soon (self);
}

static void
on_display (FwInspector *self)
{
  inspector_foreach (self, row_refresh, NULL);
  inspector_ask_soon (self);
}

/* ---- Object ---- */

static void
inspector_map (GtkWidget *widget)
{
  GTK_WIDGET_CLASS (fw_inspector_parent_class)->map (widget);
  inspector_ask_soon (FW_INSPECTOR (widget));
}

static void
inspector_dispose (GObject *object)
{
  FwInspector *self = FW_INSPECTOR (object);

  g_clear_handle_id (&self->ask, g_source_remove);
  if (self->scroll_tick != 0)
    gtk_widget_remove_tick_callback (GTK_WIDGET (self), self->scroll_tick);
  self->scroll_tick = 0;
  if (self->session != NULL)
    g_signal_handlers_disconnect_by_data (self->session, self); /* rows that go may still tell it something */
  g_clear_pointer (&self->groups, fw_group_list_free);
  fw_widget_drop_children (GTK_WIDGET (self));
  g_clear_pointer (&self->params, g_array_unref);
  g_clear_pointer (&self->words, g_ptr_array_unref);
  g_clear_pointer (&self->names, g_free);
  g_clear_pointer (&self->opened, fw_design_free);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (fw_inspector_parent_class)->dispose (object);
}

static void
fw_inspector_class_init (FwInspectorClass *class)
{
  G_OBJECT_CLASS (class)->dispose = inspector_dispose;
  GTK_WIDGET_CLASS (class)->map = inspector_map;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (class), "inspector");
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (class), GTK_ACCESSIBLE_ROLE_GROUP);
}

static GtkWidget *
inspector_search (FwInspector *self)
{
  GtkWidget *search = gtk_search_entry_new ();

  g_object_set (search, "placeholder-text", _("Find a number"), NULL);
  fw_widget_describe (search, _("Find a number"), _("Type part of its name; Enter goes to the first one found."));
  gtk_widget_set_margin_start (search, 6);
  gtk_widget_set_margin_end (search, 6);
  gtk_widget_set_margin_top (search, 6);
  gtk_widget_set_margin_bottom (search, 6);
  g_signal_connect_swapped (search, "search-changed", G_CALLBACK (on_search), self);
  g_signal_connect_swapped (search, "activate", G_CALLBACK (on_search_activate), self);
  g_signal_connect_swapped (search, "stop-search", G_CALLBACK (on_search_stop), self);
  return search;
}

static void
fw_inspector_init (FwInspector *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));

  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  fw_widget_style_add ();
  gtk_widget_add_css_class (GTK_WIDGET (self), "inspector");
  fw_widget_describe (GTK_WIDGET (self), _("Numbers"), NULL);
  self->params = g_array_new (FALSE, FALSE, sizeof (FwParam));
  self->search = inspector_search (self);
  self->note = fw_note_label ("");
  gtk_widget_add_css_class (self->note, "dim-label");
  gtk_widget_set_margin_start (self->note, 12);
  gtk_widget_set_visible (self->note, FALSE);
  self->list = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  self->scroller = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (self->scroller), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  fw_widget_describe (self->scroller, _("Numbers"), NULL);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->scroller), self->list);
  gtk_widget_set_vexpand (self->scroller, TRUE);
  g_signal_connect_swapped (gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (self->scroller)),
                            "value-changed", G_CALLBACK (inspector_ask_soon), self);
  gtk_widget_set_parent (self->search, GTK_WIDGET (self));
  gtk_widget_set_parent (self->note, GTK_WIDGET (self));
  gtk_widget_set_parent (self->scroller, GTK_WIDGET (self));
}

GtkWidget *
fw_inspector_new (FwSession *session)
{
  FwInspector *self = g_object_new (FW_TYPE_INSPECTOR, NULL);

  self->session = g_object_ref (session);
  g_signal_connect_object (session, "design-changed", G_CALLBACK (on_design), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "picked-changed", G_CALLBACK (on_picked), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "display-changed", G_CALLBACK (on_display), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "bands-changed", G_CALLBACK (on_bands), self, G_CONNECT_SWAPPED);
  GtkWidget *add = fw_part_add_button_new (session);
  gtk_widget_set_margin_start (add, 6);
  gtk_widget_set_margin_end (add, 6);
  gtk_widget_set_margin_bottom (add, 6);
  gtk_widget_insert_after (add, GTK_WIDGET (self), self->search);
  on_design (self);
  return GTK_WIDGET (self);
}

void
fw_inspector_focus_search (FwInspector *self)
{
  g_return_if_fail (FW_IS_INSPECTOR (self));
  gtk_widget_grab_focus (self->search);
  gtk_editable_select_region (GTK_EDITABLE (self->search), 0, -1); /* what is typed replaces it */
}

void
fw_inspector_search (FwInspector *self, const char *name)
{
  g_return_if_fail (FW_IS_INSPECTOR (self));
  gtk_editable_set_text (GTK_EDITABLE (self->search), name);
  on_search_activate (self);
}

void
fw_inspector_show_number (FwInspector *self, int index)
{
  g_return_if_fail (FW_IS_INSPECTOR (self) && index >= 0);
  int n;
  const FwParam *params = fw_session_params (self->session, &n);
  FwParamGroup *group = index < n ? inspector_group (self, fw_part_key_of_param (params[index])) : NULL;

  if (group == NULL)
    return;
  inspector_end_search (self);
  inspector_open_group (self, group);
  FwParamRow *row = fw_param_group_row (group, index);
  if (row != NULL)
    fw_param_row_focus (row);
  inspector_ask_soon (self);
}
