#include "app/versionspage.h"

#include <glib/gi18n.h>

#include "app/aimedits.h"
#include "app/aimghosts.h"
#include "app/widgetstyle.h"
#include "doc/versions.h"
#include "shop/logbook.h"

#define WORDS_MS 250
#define LINES 40

struct _FwVersionsPage
{
  GtkWidget parent_instance;

  FwSession *session; /* owned */
  GtkWidget *name, *keep, *list, *empty, *heading, *lines;
  const FwDocument *document; /* last seen; only compared */
  char *compared[2];          /* names of A and B; NULL: none */
  char *told;                 /* names the rows were made of */
  gboolean filling;
  guint words;                /* timeout */
  guint fill;                 /* idle: rows are not taken away while one of them is at work */
};

G_DEFINE_FINAL_TYPE (FwVersionsPage, fw_versions_page, GTK_TYPE_WIDGET)

static int
version_of (FwVersionsPage *self, int which)
{
  FwDocument *doc = fw_session_document (self->session);
  return self->compared[which] == NULL || doc == NULL ? -1 : fw_versions_find (doc, self->compared[which]);
}

/* ---- What is different ---- */

static void
drop_rows (GtkWidget *box)
{
  GtkWidget *child;
  while ((child = gtk_widget_get_first_child (box)) != NULL)
    gtk_box_remove (GTK_BOX (box), child);
}

static void
page_say_lines (FwVersionsPage *self, GPtrArray *lines)
{
  for (guint i = 0; i < lines->len && i < LINES; i++)
    {
      GtkWidget *line = fw_note_label (((FwLogLine *) lines->pdata[i])->text);
      gtk_label_set_selectable (GTK_LABEL (line), FALSE);
      gtk_box_append (GTK_BOX (self->lines), line);
    }
  if (lines->len > LINES)
    {
      g_autofree char *more = g_strdup_printf (ngettext ("and %d more", "and %d more", lines->len - LINES), (int) lines->len - LINES);
      gtk_box_append (GTK_BOX (self->lines), fw_note_label (more));
    }
}

/* What it did to the motion. */
static void
page_say_motion (FwVersionsPage *self, int before, int after)
{
  FwDocument *doc = fw_session_document (self->session);
  FwDesign *designs[2] = { fw_versions_design (doc, before, NULL), fw_versions_design (doc, after, NULL) };
  FwLogState *states[2] = { NULL, NULL };
  for (int i = 0; i < 2; i++)
    states[i] = designs[i] != NULL ? fw_log_state_new (designs[i]) : NULL;
  if (states[0] != NULL && states[1] != NULL)
    {
      g_autoptr (GPtrArray) lines = fw_log_effects (states[0], states[1], fw_session_lengths (self->session));
      page_say_lines (self, lines);
    }
  for (int i = 0; i < 2; i++)
    {
      fw_log_state_free (states[i]);
      fw_design_free (designs[i]);
    }
}

static gboolean
on_words (gpointer data)
{
  FwVersionsPage *self = data;
  int a = version_of (self, 0), b = version_of (self, 1);
  g_autoptr (GError) error = NULL;

  self->words = 0;
  drop_rows (self->lines);
  gtk_widget_set_visible (self->heading, a >= 0 || b >= 0);
  if (a < 0 && b < 0)
    return G_SOURCE_REMOVE;
  int before = a >= 0 ? a : b, after = a >= 0 && b >= 0 ? b : FW_VERSION_NOW;
  const char *from = self->compared[a >= 0 ? 0 : 1];
  g_autofree char *title = after == FW_VERSION_NOW ? g_strdup_printf (_ ("From “%s” to the present design"), from)
                                                   : g_strdup_printf (_ ("From “%s” to “%s”"), from, self->compared[1]);
  gtk_label_set_text (GTK_LABEL (self->heading), title);
  g_autoptr (GPtrArray) lines = fw_versions_changes (fw_session_document (self->session), before, after,
                                                     fw_session_lengths (self->session), &error);
  if (lines == NULL)
    gtk_box_append (GTK_BOX (self->lines), fw_note_label (error->message));
  else
    {
      page_say_lines (self, lines);
      page_say_motion (self, before, after);
    }
  return G_SOURCE_REMOVE;
}

static void
page_words_soon (FwVersionsPage *self)
{
  if (self->words == 0 && gtk_widget_get_mapped (GTK_WIDGET (self)))
    self->words = g_timeout_add (WORDS_MS, on_words, self);
}

/* ---- Which are laid over ---- */

static void
page_compare (FwVersionsPage *self, int which, const char *name)
{
  FwDocument *doc = fw_session_document (self->session);
  g_autoptr (GError) error = NULL;
  char *copy = g_strdup (name);
  g_free (self->compared[which]);
  self->compared[which] = copy;
  int version = version_of (self, which);
  FwDesign *design = version >= 0 ? fw_versions_design (doc, version, &error) : NULL;
  if (error != NULL)
    fw_session_say (self->session, "%s", error->message);
  g_autofree char *label = name != NULL ? g_strdup_printf (which == 0 ? C_ ("version", "A: %s") : C_ ("version", "B: %s"), name) : NULL;
  fw_session_set_ghost (self->session, which == 0 ? FW_GHOST_A : FW_GHOST_B, design, label);
  fw_design_free (design);
  page_words_soon (self);
}

static const char *
row_name (GtkWidget *widget)
{
  return g_object_get_data (G_OBJECT (widget), "fw-name");
}

/* One version at most is A, and one B. */
static void
on_compare (GtkToggleButton *button, FwVersionsPage *self)
{
  int which = GPOINTER_TO_INT (g_object_get_data (G_OBJECT (button), "fw-which"));
  gboolean on = gtk_toggle_button_get_active (button);
  if (self->filling)
    return;
  if (!on && g_strcmp0 (self->compared[which], row_name (GTK_WIDGET (button))) != 0)
    return;
  page_compare (self, which, on ? row_name (GTK_WIDGET (button)) : NULL);
  self->filling = TRUE;
  for (GtkWidget *row = gtk_widget_get_first_child (self->list); row != NULL; row = gtk_widget_get_next_sibling (row))
    {
      GtkWidget *toggle = g_object_get_data (G_OBJECT (row), which == 0 ? "fw-a" : "fw-b");
      gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (toggle), g_strcmp0 (row_name (toggle), self->compared[which]) == 0);
    }
  self->filling = FALSE;
}

/* ---- Rows ---- */

static int
pressed_version (FwVersionsPage *self, GtkWidget *button)
{
  return fw_versions_find (fw_session_document (self->session), row_name (button));
}

static void
on_bring_back (GtkWidget *button, FwVersionsPage *self)
{
  g_autofree char *name = g_strdup (row_name (button));
  g_autoptr (FwSession) session = g_object_ref (self->session);
  if (fw_session_bring_back (session, pressed_version (self, button)))
    /* Translators: %s is the name of a version */
    fw_session_say (session, _ ("The design is that of “%s” again; undo takes it back"), name);
}

static void
on_remove (GtkWidget *button, FwVersionsPage *self)
{
  fw_session_remove_version (self->session, pressed_version (self, button));
}

static void
on_renamed (GtkEditable *entry, FwVersionsPage *self)
{
  g_autofree char *old = g_strdup (row_name (GTK_WIDGET (entry)));
  g_autofree char *name = g_strstrip (g_strdup (gtk_editable_get_text (entry)));
  if (self->filling || g_str_equal (old, name))
    return;
  if (!fw_session_rename_version (self->session, pressed_version (self, GTK_WIDGET (entry)), name))
    {
      gtk_editable_set_text (entry, old);
      return;
    }
  for (int i = 0; i < 2; i++)
    if (g_strcmp0 (self->compared[i], old) == 0)
      page_compare (self, i, name);
}

static void
on_rename_done (GtkEditableLabel *label, GParamSpec *spec, FwVersionsPage *self)
{
  if (!gtk_editable_label_get_editing (label))
    on_renamed (GTK_EDITABLE (label), self);
}

static void
keep_name (GtkWidget *widget, const char *name)
{
  g_object_set_data_full (G_OBJECT (widget), "fw-name", g_strdup (name), g_free);
}

static GtkWidget *
row_button (FwVersionsPage *self, const char *icon, const char *words, const char *name, GCallback pressed)
{
  GtkWidget *button = gtk_button_new_from_icon_name (icon);
  gtk_widget_add_css_class (button, "flat");
  gtk_widget_set_valign (button, GTK_ALIGN_CENTER);
  gtk_widget_set_tooltip_text (button, words);
  fw_widget_describe (button, words, NULL);
  keep_name (button, name);
  g_signal_connect (button, "clicked", pressed, self);
  return button;
}

static GtkWidget *
row_toggle (FwVersionsPage *self, int which, const char *name)
{
  GtkWidget *toggle = gtk_toggle_button_new_with_label (which == 0 ? C_ ("version", "A") : C_ ("version", "B"));
  g_autofree char *words = g_strdup_printf (which == 0 ? _ ("Lay “%s” over the design as A") : _ ("Lay “%s” over the design as B"), name);
  gtk_widget_set_tooltip_text (toggle, words);
  gtk_widget_set_valign (toggle, GTK_ALIGN_CENTER);
  fw_widget_describe (toggle, words, NULL);
  keep_name (toggle, name);
  g_object_set_data (G_OBJECT (toggle), "fw-which", GINT_TO_POINTER (which));
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (toggle), g_strcmp0 (self->compared[which], name) == 0);
  g_signal_connect (toggle, "toggled", G_CALLBACK (on_compare), self);
  return toggle;
}

static GtkWidget *
version_row (FwVersionsPage *self, const char *name)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6), *pair = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  GtkWidget *label = gtk_editable_label_new (name), *a = row_toggle (self, 0, name), *b = row_toggle (self, 1, name);
  g_autofree char *back = g_strdup_printf (_ ("Bring “%s” back"), name), *remove = g_strdup_printf (_ ("Remove “%s”"), name);
  g_autofree char *rename = g_strdup_printf (_ ("Name of the version “%s”"), name);

  gtk_widget_add_css_class (row, "version-row");
  gtk_widget_add_css_class (pair, "linked");
  gtk_box_append (GTK_BOX (pair), a);
  gtk_box_append (GTK_BOX (pair), b);
  keep_name (label, name);
  fw_widget_describe (label, rename, NULL);
  gtk_widget_set_tooltip_text (label, _ ("Press Enter to give it another name"));
  gtk_widget_set_hexpand (label, TRUE);
  g_signal_connect (label, "notify::editing", G_CALLBACK (on_rename_done), self);
  gtk_box_append (GTK_BOX (row), label);
  gtk_box_append (GTK_BOX (row), pair);
  gtk_box_append (GTK_BOX (row), row_button (self, "edit-undo-symbolic", back, name, G_CALLBACK (on_bring_back)));
  gtk_box_append (GTK_BOX (row), row_button (self, "user-trash-symbolic", remove, name, G_CALLBACK (on_remove)));
  g_object_set_data (G_OBJECT (row), "fw-a", a);
  g_object_set_data (G_OBJECT (row), "fw-b", b);
  return row;
}

/* Rows are made anew only when a name comes, goes or changes. */
static void
page_fill (FwVersionsPage *self)
{
  FwDocument *doc = fw_session_document (self->session);
  int n = doc != NULL ? fw_versions_count (doc) : 0;
  GString *names = g_string_new (NULL);

  for (int i = 0; i < n; i++)
    g_string_append_printf (names, "%s\n", fw_versions_name (doc, i));
  if (g_strcmp0 (names->str, self->told) == 0)
    {
      g_string_free (names, TRUE);
      return;
    }
  g_free (self->told);
  self->told = g_string_free (names, FALSE);
  self->filling = TRUE;
  drop_rows (self->list);
  for (int i = 0; i < n; i++)
    gtk_box_append (GTK_BOX (self->list), version_row (self, fw_versions_name (doc, i)));
  self->filling = FALSE;
  gtk_widget_set_visible (self->empty, n == 0);
}

static gboolean
on_fill (gpointer data)
{
  FwVersionsPage *self = data;
  self->fill = 0;
  page_fill (self);
  return G_SOURCE_REMOVE;
}

/* ---- Keeping ---- */

static char *
free_name (const FwDocument *doc)
{
  for (int i = fw_versions_count (doc) + 1;; i++)
    {
      /* Translators: a suggested name: "version 3" */
      g_autofree char *name = g_strdup_printf (_ ("version %d"), i);
      if (fw_versions_find (doc, name) < 0)
        return g_steal_pointer (&name);
    }
}

static void
on_keep (FwVersionsPage *self)
{
  FwDocument *doc = fw_session_document (self->session);
  if (doc == NULL)
    return;
  g_autofree char *typed = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->name))));
  g_autofree char *name = *typed != '\0' ? g_strdup (typed) : free_name (doc);
  if (!fw_session_keep_version (self->session, name))
    return;
  gtk_editable_set_text (GTK_EDITABLE (self->name), "");
  fw_session_say (self->session, _ ("Kept as “%s”"), name);
}

static void
on_design (FwVersionsPage *self)
{
  const FwDocument *doc = fw_session_document (self->session);
  if (doc != self->document)
    for (int i = 0; i < 2; i++)
      g_clear_pointer (&self->compared[i], g_free);
  self->document = doc;
  gtk_widget_set_sensitive (self->keep, doc != NULL);
  for (int i = 0; i < 2; i++)
    if (self->compared[i] != NULL && version_of (self, i) < 0)
      page_compare (self, i, NULL);
  if (self->fill == 0)
    self->fill = g_idle_add (on_fill, self);
  page_words_soon (self);
}

/* ---- Object ---- */

static void
versions_page_dispose (GObject *object)
{
  FwVersionsPage *self = FW_VERSIONS_PAGE (object);

  g_clear_handle_id (&self->words, g_source_remove);
  g_clear_handle_id (&self->fill, g_source_remove);
  self->filling = TRUE;
  fw_widget_drop_children (GTK_WIDGET (self));
  g_clear_object (&self->session);
  for (int i = 0; i < 2; i++)
    g_clear_pointer (&self->compared[i], g_free);
  g_clear_pointer (&self->told, g_free);
  G_OBJECT_CLASS (fw_versions_page_parent_class)->dispose (object);
}

static void
fw_versions_page_class_init (FwVersionsPageClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = versions_page_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "versions-page");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
fw_versions_page_init (FwVersionsPage *self)
{
  fw_widget_style_add ();
  fw_widget_describe (GTK_WIDGET (self), _ ("Versions"), NULL);
}

static GtkWidget *
page_keep_row (FwVersionsPage *self)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  self->name = gtk_entry_new ();
  self->keep = gtk_button_new_with_label (_ ("Keep"));
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->name), _ ("Name of this version"));
  fw_widget_describe (self->name, _ ("Name of this version"), NULL);
  gtk_widget_set_hexpand (self->name, TRUE);
  gtk_widget_set_tooltip_text (self->keep, _ ("Keep the design as it is now under this name"));
  fw_widget_describe (self->keep, _ ("Keep this version"), NULL);
  g_signal_connect_swapped (self->name, "activate", G_CALLBACK (on_keep), self);
  g_signal_connect_swapped (self->keep, "clicked", G_CALLBACK (on_keep), self);
  gtk_box_append (GTK_BOX (row), self->name);
  gtk_box_append (GTK_BOX (row), self->keep);
  return row;
}

static void
page_add_children (FwVersionsPage *self)
{
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12), *scroller = gtk_scrolled_window_new ();

  gtk_widget_add_css_class (column, "aim-column");
  self->list = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  self->empty = fw_note_label (_ ("No version is kept yet. Keep the design under a name before you change it: you can lay it "
                                 "over later ones, see what is different, and bring it back."));
  gtk_widget_add_css_class (self->empty, "dim-label");
  self->heading = gtk_label_new ("");
  gtk_label_set_xalign (GTK_LABEL (self->heading), 0);
  gtk_label_set_wrap (GTK_LABEL (self->heading), TRUE);
  gtk_widget_add_css_class (self->heading, "heading");
  gtk_widget_set_visible (self->heading, FALSE);
  self->lines = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  fw_widget_describe (self->lines, _ ("What is different"), NULL);
  gtk_box_append (GTK_BOX (column), page_keep_row (self));
  gtk_box_append (GTK_BOX (column), self->empty);
  gtk_box_append (GTK_BOX (column), self->list);
  gtk_box_append (GTK_BOX (column), self->heading);
  gtk_box_append (GTK_BOX (column), self->lines);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  fw_widget_describe (scroller, _ ("Versions"), NULL);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), column);
  gtk_widget_set_parent (scroller, GTK_WIDGET (self));
}

GtkWidget *
fw_versions_page_new (FwSession *session)
{
  FwVersionsPage *self = g_object_new (FW_TYPE_VERSIONS_PAGE, NULL);

  self->session = g_object_ref (session);
  page_add_children (self);
  g_signal_connect_object (session, "design-changed", G_CALLBACK (on_design), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "display-changed", G_CALLBACK (page_words_soon), self, G_CONNECT_SWAPPED);
  g_signal_connect (self, "map", G_CALLBACK (page_words_soon), NULL);
  on_design (self);
  return GTK_WIDGET (self);
}

void
fw_versions_page_focus (FwVersionsPage *self)
{
  g_return_if_fail (FW_IS_VERSIONS_PAGE (self));
  gtk_widget_grab_focus (self->name);
}
