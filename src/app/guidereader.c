#include "app/guidereader.h"

#include <glib/gi18n.h>
#include <string.h>

#include "app/ask.h"
#include "app/guidefiles.h"
#include "app/guidepage.h"
#include "app/widgetstyle.h"

#define WIDTH 980
#define HEIGHT 720
#define LIST_WIDTH 190
#define STEP 60.0 /* px that an arrow scrolls */

typedef struct
{
  char *place;   /* "page.md#section" */
  double scroll; /* where it was left; below 0: at its section */
} Visit;

typedef struct
{
  GtkWindow *window; /* owns this */
  GtkWidget *list, *scroll, *page, *back, *forth, *find, *status;
  GtkWidget *found; /* the place found last, within page */
  char *folder;     /* NULL: not installed */
  char *next;       /* a link that was pressed */
  GArray *visits;
  guint at, due;
} Reader;

static const char *const first_pages[] = { "guide.md", "tutorial.md", "using.md", "troubleshooting.md", "words.md" };

/* ---- Places on the page ---- */

static GtkAdjustment *
reader_adjustment (Reader *self)
{
  return gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (self->scroll));
}

static void
reader_scroll_to (Reader *self, GtkWidget *widget)
{
  double x, y;
  if (gtk_widget_translate_coordinates (widget, self->page, 0, 0, &x, &y))
    gtk_adjustment_set_value (reader_adjustment (self), y - 12);
}

/* A link that the keyboard comes to is brought in sight. */
static void
on_focus (Reader *self)
{
  GtkWidget *at = gtk_window_get_focus (self->window);
  double x, y;
  if (at != NULL && self->page != NULL && at != self->page && gtk_widget_is_ancestor (at, self->page)
      && gtk_widget_translate_coordinates (at, self->page, 0, 0, &x, &y))
    gtk_adjustment_clamp_page (reader_adjustment (self), y - 12, y + gtk_widget_get_height (at) + 12);
}

static Visit *
reader_visit (Reader *self)
{
  return &g_array_index (self->visits, Visit, self->at);
}

/* The heading that a place names, NULL if none. On a translated page an English name means the heading that stands in the
 * same place on the English page: what is not translated, and the program itself, name it so. */
static GtkWidget *
reader_heading (Reader *self, GtkWidget *page, const char *place)
{
  const char *anchor = strchr (place, '#');
  GtkWidget *heading = anchor != NULL ? fw_guide_page_heading (page, anchor + 1) : NULL;
  if (anchor == NULL || heading != NULL || self->folder == NULL)
    return heading;
  g_autofree char *name = g_strndup (place, (gsize) (anchor - place)), *path = g_build_filename (self->folder, name, NULL), *text = NULL;
  return g_file_get_contents (path, &text, NULL, NULL)
             ? fw_guide_page_nth_heading (page, fw_guide_heading_number (text, anchor + 1))
             : NULL;
}

/* Once the page has its size. */
static gboolean
on_laid_out (GtkWidget *page, GdkFrameClock *clock, gpointer data)
{
  Reader *self = data;
  Visit *visit = reader_visit (self);
  GtkWidget *heading = reader_heading (self, page, visit->place);

  if (gtk_widget_get_height (page) == 0 || gtk_adjustment_get_upper (reader_adjustment (self)) < gtk_widget_get_height (page))
    return G_SOURCE_CONTINUE;
  if (visit->scroll >= 0)
    gtk_adjustment_set_value (reader_adjustment (self), visit->scroll);
  else if (heading != NULL)
    reader_scroll_to (self, heading);
  else
    gtk_adjustment_set_value (reader_adjustment (self), 0);
  return G_SOURCE_REMOVE;
}

/* ---- Going from page to page ---- */

static void
reader_say (Reader *self, const char *text)
{
  gtk_label_set_text (GTK_LABEL (self->status), text);
  gtk_widget_set_visible (self->status, *text != '\0');
}

static void
reader_pick (Reader *self, const char *name)
{
  GtkWidget *row = gtk_widget_get_first_child (self->list);
  for (; row != NULL; row = gtk_widget_get_next_sibling (row))
    if (g_strcmp0 (g_object_get_data (G_OBJECT (row), "fw-name"), name) == 0)
      gtk_list_box_select_row (GTK_LIST_BOX (self->list), GTK_LIST_BOX_ROW (row));
}

static void reader_follow (const char *place, gpointer data);

static void
reader_show (Reader *self)
{
  const char *place = reader_visit (self)->place;
  g_autofree char *name = g_strndup (place, strcspn (place, "#"));
  g_autofree char *path = self->folder != NULL ? fw_guide_file (self->folder, name) : NULL;
  g_autofree char *text = NULL;
  gboolean foreign = self->folder != NULL && fw_guide_only_in_english (self->folder, name);

  if (path == NULL || !g_file_get_contents (path, &text, NULL, NULL) || !g_utf8_validate (text, -1, NULL))
    {
      g_free (text);
      /* Translators: %s is a file of the guide */
      text = g_strdup_printf (_ ("The guide is not installed here; this is in its page %s."), place);
    }
  g_autofree char *title = fw_guide_title (text, name);
  self->found = NULL;
  self->page = fw_guide_page_new (text, self->folder, reader_follow, self);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->scroll), self->page);
  /* A picture may shrink to nothing; here it shall have the height that its width asks for. */
  GtkWidget *viewport = gtk_widget_get_parent (self->page);
  gtk_scrollable_set_vscroll_policy (GTK_SCROLLABLE (viewport), GTK_SCROLL_NATURAL);
  gtk_viewport_set_scroll_to_focus (GTK_VIEWPORT (viewport), FALSE); /* it would go to the top of the page with the keyboard */
  fw_widget_describe (self->page, _ ("Page of the guide"), title);
  gtk_widget_set_focusable (self->page, TRUE);
  gtk_widget_set_sensitive (self->back, self->at > 0);
  gtk_widget_set_sensitive (self->forth, self->at + 1 < self->visits->len);
  reader_say (self, foreign ? _ ("This page is in English only.") : "");
  reader_pick (self, name);
  gtk_widget_grab_focus (self->page);
  gtk_widget_add_tick_callback (self->page, on_laid_out, self, NULL);
}

static void
reader_leave (Reader *self)
{
  if (self->visits->len > 0)
    reader_visit (self)->scroll = gtk_adjustment_get_value (reader_adjustment (self));
}

static void
reader_go (Reader *self, const char *place)
{
  const Visit visit = { g_strdup (place), -1 };
  reader_leave (self);
  if (self->visits->len > 0)
    {
      self->at++;
      g_array_set_size (self->visits, self->at);
    }
  g_array_append_val (self->visits, visit);
  reader_show (self);
}

static void
reader_step (Reader *self, int step)
{
  if ((step < 0 && self->at == 0) || (step > 0 && self->at + 1 >= self->visits->len))
    return;
  reader_leave (self);
  self->at = (guint) ((int) self->at + step);
  reader_show (self);
}

static gboolean
on_due (gpointer data)
{
  Reader *self = data;
  g_autofree char *link = g_steal_pointer (&self->next);
  g_autofree char *place = self->folder != NULL ? fw_guide_place (self->folder, link) : NULL;
  const char *here = reader_visit (self)->place;

  self->due = 0;
  if (*link == '#')
    {
      g_autofree char *whole = g_strdup_printf ("%.*s%s", (int) strcspn (here, "#"), here, link);
      reader_go (self, whole);
    }
  else if (place != NULL)
    reader_go (self, place);
  else
    {
      /* Translators: %s is an address, or a file beside the guide */
      g_autofree char *words = g_strdup_printf (_ ("Outside the guide, and not opened from here: %s"), link);
      reader_say (self, words);
    }
  return G_SOURCE_REMOVE;
}

/* Not at once: the label that was pressed goes away with its page. */
static void
reader_follow (const char *place, gpointer data)
{
  Reader *self = data;
  g_free (self->next);
  self->next = g_strdup (place);
  if (self->due == 0)
    self->due = g_idle_add (on_due, self);
}

static void
on_picked (Reader *self, GtkListBoxRow *row)
{
  reader_go (self, g_object_get_data (G_OBJECT (row), "fw-name"));
}

static void
on_back (Reader *self)
{
  reader_step (self, -1);
}

static void
on_forth (Reader *self)
{
  reader_step (self, 1);
}

/* ---- Finding on the page ---- */

static void
reader_find (Reader *self, GtkWidget *after)
{
  const char *words = gtk_editable_get_text (GTK_EDITABLE (self->find));
  self->found = fw_guide_page_find (self->page, words, after);
  if (self->found != NULL)
    reader_scroll_to (self, self->found);
  reader_say (self, self->found == NULL && *words != '\0' ? _ ("This is not on the page.") : "");
}

static void
on_find_changed (Reader *self)
{
  reader_find (self, NULL);
}

static void
on_find_next (Reader *self)
{
  reader_find (self, self->found);
}

static void
on_find_stop (Reader *self)
{
  gtk_editable_set_text (GTK_EDITABLE (self->find), "");
  gtk_widget_grab_focus (self->page);
}

/* ---- Keys ---- */

static gboolean
on_key (GtkWidget *window, GVariant *args, gpointer data)
{
  Reader *self = g_object_get_data (G_OBJECT (window), "fw-reader");
  void (*what) (Reader *) = data;
  what (self);
  return TRUE;
}

static void
on_find_key (Reader *self)
{
  gtk_widget_grab_focus (self->find);
  gtk_editable_select_region (GTK_EDITABLE (self->find), 0, -1);
}

/* Words of the page in order; those of them that are selected. */
static void
gather (GtkWidget *widget, GString *all, char **selected)
{
  int from, to;

  if (GTK_IS_LABEL (widget))
    {
      const char *words = gtk_label_get_text (GTK_LABEL (widget));
      if (*selected == NULL && gtk_label_get_selection_bounds (GTK_LABEL (widget), &from, &to))
        *selected = g_utf8_substring (words, from, to);
      g_string_append_printf (all, "%s\n", words);
    }
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    gather (child, all, selected);
}

/* The whole page where nothing is selected: only a pointer can select, and a key must be able to copy too. */
static void
on_copy (Reader *self)
{
  GString *all = g_string_new (NULL);
  g_autofree char *selected = NULL;

  gather (self->scroll, all, &selected);
  gdk_clipboard_set_text (gtk_widget_get_clipboard (self->scroll), selected != NULL ? selected : all->str);
  g_string_free (all, TRUE);
}

static gboolean
on_page_key (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, gpointer data)
{
  Reader *self = data;
  GtkAdjustment *adjustment = reader_adjustment (self);
  double page = gtk_adjustment_get_page_size (adjustment) - STEP, by = 0;

  state &= gtk_accelerator_get_default_mod_mask ();
  if (keyval == GDK_KEY_c && state == GDK_CONTROL_MASK) /* a link with the keyboard would copy nothing */
    {
      on_copy (self);
      return TRUE;
    }
  if (state != 0)
    return FALSE;
  if (keyval == GDK_KEY_Down || keyval == GDK_KEY_Up)
    by = keyval == GDK_KEY_Down ? STEP : -STEP;
  else if (keyval == GDK_KEY_space || keyval == GDK_KEY_Page_Down || keyval == GDK_KEY_Page_Up)
    by = keyval == GDK_KEY_Page_Up ? -page : page;
  else if (keyval == GDK_KEY_Home || keyval == GDK_KEY_End)
    by = (keyval == GDK_KEY_Home ? -1 : 1) * gtk_adjustment_get_upper (adjustment);
  else
    return FALSE;
  gtk_adjustment_set_value (adjustment, gtk_adjustment_get_value (adjustment) + by);
  return TRUE;
}

static void
reader_keys (Reader *self)
{
  static const struct { guint key; GdkModifierType mods; void (*what) (Reader *); } keys[] = {
    { GDK_KEY_Left, GDK_ALT_MASK, on_back }, { GDK_KEY_Right, GDK_ALT_MASK, on_forth }, { GDK_KEY_f, GDK_CONTROL_MASK, on_find_key },
    { GDK_KEY_F3, 0, on_find_next }, { GDK_KEY_c, GDK_CONTROL_MASK, on_copy },
  };
  GtkEventController *shortcuts = gtk_shortcut_controller_new (), *scrolls = gtk_event_controller_key_new ();
  for (gsize i = 0; i < G_N_ELEMENTS (keys); i++)
    gtk_shortcut_controller_add_shortcut (
        GTK_SHORTCUT_CONTROLLER (shortcuts),
        gtk_shortcut_new (gtk_keyval_trigger_new (keys[i].key, keys[i].mods), gtk_callback_action_new (on_key, keys[i].what, NULL)));
  gtk_widget_add_controller (GTK_WIDGET (self->window), shortcuts);
  g_signal_connect (scrolls, "key-pressed", G_CALLBACK (on_page_key), self);
  gtk_event_controller_set_propagation_phase (scrolls, GTK_PHASE_CAPTURE); /* before the arrows leave the page */
  gtk_widget_add_controller (self->scroll, scrolls);
}

/* ---- The window ---- */

static void
add_page (Reader *self, const char *name)
{
  g_autofree char *path = fw_guide_file (self->folder, name), *text = NULL;
  if (!g_file_get_contents (path, &text, NULL, NULL))
    return;
  g_autofree char *title = fw_guide_title (text, name);
  GtkWidget *label = gtk_label_new (title), *row = gtk_list_box_row_new ();
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), label);
  g_object_set_data_full (G_OBJECT (row), "fw-name", g_strdup (name), g_free);
  fw_widget_describe (row, title, NULL);
  gtk_list_box_append (GTK_LIST_BOX (self->list), row);
}

static int
by_name (gconstpointer a, gconstpointer b)
{
  return strcmp (*(char *const *) a, *(char *const *) b);
}

/* First what is read first, then all others. */
static void
add_pages (Reader *self)
{
  g_autoptr (GDir) dir = self->folder != NULL ? g_dir_open (self->folder, 0, NULL) : NULL;
  g_autoptr (GPtrArray) others = g_ptr_array_new_with_free_func (g_free);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      gboolean first = FALSE;
      for (gsize i = 0; i < G_N_ELEMENTS (first_pages); i++)
        first = first || g_str_equal (name, first_pages[i]);
      if (!first && g_str_has_suffix (name, ".md"))
        g_ptr_array_add (others, g_strdup (name));
    }
  g_ptr_array_sort (others, by_name);
  for (gsize i = 0; dir != NULL && i < G_N_ELEMENTS (first_pages); i++)
    add_page (self, first_pages[i]);
  for (guint i = 0; i < others->len; i++)
    add_page (self, others->pdata[i]);
}

/* What one learns from stands first; behind it, under a heading of its own, how things are worked out. */
static void
on_header (GtkListBoxRow *row, GtkListBoxRow *before, gpointer data)
{
  gboolean first_of_others = gtk_list_box_row_get_index (row) == G_N_ELEMENTS (first_pages);
  GtkWidget *heading = first_of_others ? gtk_label_new (C_ ("pages of the guide", "How it is worked out")) : NULL;
  if (heading != NULL)
    {
      gtk_label_set_xalign (GTK_LABEL (heading), 0);
      gtk_label_set_wrap (GTK_LABEL (heading), TRUE);
      gtk_widget_add_css_class (heading, "guide-others");
    }
  gtk_list_box_row_set_header (row, heading);
}

static GtkWidget *
contents_new (Reader *self)
{
  GtkWidget *scroll = gtk_scrolled_window_new ();
  self->list = gtk_list_box_new ();
  gtk_widget_add_css_class (self->list, "guide-list");
  fw_widget_describe (self->list, _ ("Pages of the guide"), NULL);
  add_pages (self);
  gtk_list_box_set_header_func (GTK_LIST_BOX (self->list), on_header, NULL, NULL);
  g_signal_connect_swapped (self->list, "row-activated", G_CALLBACK (on_picked), self);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroll), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_widget_set_size_request (scroll, LIST_WIDTH, -1);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroll), self->list);
  return scroll;
}

static GtkWidget *
tool_new (Reader *self, const char *icon, const char *name, const char *hint, GCallback pressed)
{
  GtkWidget *button = gtk_button_new_from_icon_name (icon);
  gtk_widget_set_tooltip_text (button, hint);
  fw_widget_describe (button, name, NULL);
  g_signal_connect_swapped (button, "clicked", pressed, self);
  return button;
}

static void
add_tools (Reader *self)
{
  GtkHeaderBar *bar = GTK_HEADER_BAR (gtk_window_get_titlebar (self->window));
  self->back = tool_new (self, "go-previous-symbolic", C_ ("page of the guide", "Back"), _ ("To the page before (Alt+Left)"), G_CALLBACK (on_back));
  self->forth = tool_new (self, "go-next-symbolic", C_ ("page of the guide", "Forward"), _ ("To the page after (Alt+Right)"), G_CALLBACK (on_forth));
  self->find = gtk_search_entry_new ();
  g_object_set (self->find, "placeholder-text", _ ("Find on this page"), NULL);
  fw_widget_describe (self->find, _ ("Find on this page"), NULL);
  g_signal_connect_swapped (self->find, "search-changed", G_CALLBACK (on_find_changed), self);
  g_signal_connect_swapped (self->find, "activate", G_CALLBACK (on_find_next), self);
  g_signal_connect_swapped (self->find, "next-match", G_CALLBACK (on_find_next), self);
  g_signal_connect_swapped (self->find, "stop-search", G_CALLBACK (on_find_stop), self);
  gtk_header_bar_pack_start (bar, self->back);
  gtk_header_bar_pack_start (bar, self->forth);
  gtk_header_bar_pack_end (bar, self->find);
}

static GtkWidget *
reader_content (Reader *self)
{
  GtkWidget *halves = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0), *right = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  self->scroll = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (self->scroll), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_widget_set_hexpand (self->scroll, TRUE);
  gtk_widget_set_vexpand (self->scroll, TRUE);
  gtk_widget_add_css_class (self->scroll, "guide-sheet");
  self->status = g_object_new (GTK_TYPE_LABEL, "accessible-role", GTK_ACCESSIBLE_ROLE_STATUS, "wrap", TRUE, "xalign", 0.0,
                               "wrap-mode", PANGO_WRAP_WORD_CHAR, "selectable", TRUE, NULL);
  gtk_widget_add_css_class (self->status, "guide-status");
  gtk_box_append (GTK_BOX (right), self->scroll);
  gtk_box_append (GTK_BOX (right), self->status);
  gtk_box_append (GTK_BOX (halves), contents_new (self));
  gtk_box_append (GTK_BOX (halves), gtk_separator_new (GTK_ORIENTATION_VERTICAL));
  gtk_box_append (GTK_BOX (halves), right);
  return halves;
}

static void
visit_clear (gpointer data)
{
  g_free (((Visit *) data)->place);
}

static void
reader_free (gpointer data)
{
  Reader *self = data;
  g_clear_handle_id (&self->due, g_source_remove);
  g_array_unref (self->visits);
  g_free (self->folder);
  g_free (self->next);
  g_free (self);
}

static void
on_gone (GtkWindow *parent)
{
  g_object_set_data (G_OBJECT (parent), "fw-guide", NULL);
}

static Reader *
reader_new (GtkWindow *parent)
{
  Reader *self = g_new0 (Reader, 1);
  self->folder = fw_guide_folder ();
  self->visits = g_array_new (FALSE, FALSE, sizeof (Visit));
  g_array_set_clear_func (self->visits, visit_clear);
  self->window = fw_dialog_new (parent, C_ ("window", "Guide"));
  g_object_set_data_full (G_OBJECT (self->window), "fw-reader", self, reader_free);
  gtk_window_set_modal (self->window, FALSE);
  gtk_window_set_default_size (self->window, WIDTH, MIN (HEIGHT, MAX (gtk_widget_get_height (GTK_WIDGET (parent)), 400)));
  add_tools (self);
  gtk_window_set_child (self->window, reader_content (self));
  reader_keys (self);
  g_signal_connect_swapped (self->window, "notify::focus-widget", G_CALLBACK (on_focus), self);
  g_object_set_data (G_OBJECT (parent), "fw-guide", self);
  g_signal_connect_object (self->window, "destroy", G_CALLBACK (on_gone), parent, G_CONNECT_SWAPPED);
  return self;
}

void
fw_guide_reader_show (GtkWindow *parent, const char *place)
{
  Reader *self = g_object_get_data (G_OBJECT (parent), "fw-guide");
  if (self == NULL)
    self = reader_new (parent);
  gtk_window_present (self->window); /* first: the tree of assistive technology takes it for a window then */
  reader_go (self, place);
}
