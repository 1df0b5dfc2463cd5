#include "app/workshoppages.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/widgetstyle.h"

#define SMALL_WIDTH 112
#define SMALL_HEIGHT 132
#define MOST_KEPT 240     /* small pages held as pictures */
#define PX_PER_MM (96 / 25.4)
#define LEAST_ZOOM 0.1    /* of true size on a usual screen */
#define MOST_ZOOM 6.0
#define MOST_PX 8000.0    /* a larger surface is more than some screens' drivers take */
#define STEP 1.25
#define AROUND 18         /* px around the large page */

struct _FwPageView
{
  GtkWidget parent_instance;

  char *name;
  FwPageDraw draw;

  FwLaid *laid; /* owned; NULL: nothing yet */
  int n, page;
  double width_mm, height_mm;
  double zoom; /* 0: the whole page */

  GtkStringList *titles; /* owned by the selection */
  GtkSingleSelection *selection;
  GtkWidget *row, *list, *place, *large, *which, *scroller;
  GHashTable *small;   /* page + 1 -> cairo_surface_t */
  GPtrArray *areas;    /* those that show small pages now; borrowed */
  GArray *wanted;      /* int: small pages to be painted */
  guint painting;      /* idle */
};

G_DEFINE_FINAL_TYPE (FwPageView, fw_page_view, GTK_TYPE_WIDGET)

/* ---- One page ---- */

static void
page_paint (FwPageView *self, cairo_t *cr, int page, double x, double y, double scale)
{
  cairo_save (cr);
  cairo_translate (cr, x, y);
  cairo_scale (cr, scale, scale);
  cairo_rectangle (cr, 0, 0, self->width_mm, self->height_mm);
  cairo_clip (cr);
  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_paint (cr);
  self->draw (cr, self->laid, page);
  cairo_restore (cr);
}

static void
rim_paint (cairo_t *cr, double x, double y, double width, double height)
{
  cairo_rectangle (cr, x - 0.5, y - 0.5, width + 1, height + 1);
  cairo_set_line_width (cr, 1);
  cairo_set_source_rgba (cr, 0.3, 0.27, 0.22, 0.45);
  cairo_stroke (cr);
}

/* ---- Small pages ---- */

static double
small_scale (FwPageView *self)
{
  return fmin ((SMALL_WIDTH - 4) / self->width_mm, (SMALL_HEIGHT - 4) / self->height_mm);
}

static gboolean
on_idle (gpointer data)
{
  FwPageView *self = data;

  if (self->wanted->len == 0 || self->laid == NULL)
    {
      self->painting = 0;
      return G_SOURCE_REMOVE;
    }
  int page = g_array_index (self->wanted, int, self->wanted->len - 1); /* the last asked for is in sight */
  g_array_set_size (self->wanted, self->wanted->len - 1);
  if (page >= self->n || g_hash_table_contains (self->small, GINT_TO_POINTER (page + 1)))
    return G_SOURCE_CONTINUE;
  if (g_hash_table_size (self->small) >= MOST_KEPT)
    g_hash_table_remove_all (self->small);
  int device = gtk_widget_get_scale_factor (GTK_WIDGET (self));
  double scale = small_scale (self);
  cairo_surface_t *surface
      = cairo_image_surface_create (CAIRO_FORMAT_RGB24, (int) ceil (self->width_mm * scale * device),
                                    (int) ceil (self->height_mm * scale * device));
  cairo_surface_set_device_scale (surface, device, device);
  cairo_t *cr = cairo_create (surface);
  page_paint (self, cr, page, 0, 0, scale);
  cairo_destroy (cr);
  g_hash_table_insert (self->small, GINT_TO_POINTER (page + 1), surface);
  for (guint i = 0; i < self->areas->len; i++)
    if (GPOINTER_TO_INT (g_object_get_data (self->areas->pdata[i], "page")) == page)
      gtk_widget_queue_draw (self->areas->pdata[i]);
  return G_SOURCE_CONTINUE;
}

static void
small_want (FwPageView *self, int page)
{
  for (guint i = 0; i < self->wanted->len; i++)
    if (g_array_index (self->wanted, int, i) == page)
      return;
  g_array_append_val (self->wanted, page);
  if (self->painting == 0)
    self->painting = g_idle_add_full (G_PRIORITY_DEFAULT_IDLE + 20, on_idle, self, NULL);
}

static void
small_paint (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  FwPageView *self = data;
  int page = GPOINTER_TO_INT (g_object_get_data (G_OBJECT (area), "page"));
  if (self->laid == NULL || page >= self->n)
    return;
  double scale = small_scale (self), w = self->width_mm * scale, h = self->height_mm * scale;
  double x = floor ((width - w) / 2), y = floor ((height - h) / 2);
  cairo_surface_t *surface = g_hash_table_lookup (self->small, GINT_TO_POINTER (page + 1));
  cairo_rectangle (cr, x, y, w, h);
  cairo_set_source_rgb (cr, 1, 1, 1);
  if (surface != NULL)
    cairo_set_source_surface (cr, surface, x, y);
  else
    small_want (self, page);
  cairo_fill (cr);
  rim_paint (cr, x, y, w, h);
}

static void
on_setup (FwPageView *self, GtkListItem *item)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  GtkWidget *area = gtk_drawing_area_new (), *label = gtk_label_new (NULL);

  gtk_drawing_area_set_content_width (GTK_DRAWING_AREA (area), SMALL_WIDTH);
  gtk_drawing_area_set_content_height (GTK_DRAWING_AREA (area), SMALL_HEIGHT);
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (area), small_paint, self, NULL);
  gtk_widget_add_css_class (label, "note");
  gtk_box_append (GTK_BOX (box), area);
  gtk_box_append (GTK_BOX (box), label);
  gtk_widget_set_margin_top (box, 4);
  gtk_widget_set_margin_bottom (box, 4);
  gtk_list_item_set_child (item, box);
}

static void
on_bind (FwPageView *self, GtkListItem *item)
{
  GtkWidget *area = gtk_widget_get_first_child (gtk_list_item_get_child (item));
  const char *title = gtk_string_object_get_string (GTK_STRING_OBJECT (gtk_list_item_get_item (item)));

  g_object_set_data (G_OBJECT (area), "page", GINT_TO_POINTER ((int) gtk_list_item_get_position (item)));
  gtk_label_set_text (GTK_LABEL (gtk_widget_get_next_sibling (area)), title);
  fw_widget_describe (gtk_widget_get_parent (gtk_list_item_get_child (item)), title, NULL);
  g_ptr_array_add (self->areas, area);
  gtk_widget_queue_draw (area);
}

static void
on_unbind (FwPageView *self, GtkListItem *item)
{
  GtkWidget *box = gtk_list_item_get_child (item);
  if (box != NULL && self->areas != NULL)
    g_ptr_array_remove_fast (self->areas, gtk_widget_get_first_child (box));
}

/* ---- The large page ---- */

static double
fit_scale (FwPageView *self, int width, int height)
{
  return fmin ((width - 2 * AROUND) / self->width_mm, (height - 2 * AROUND) / self->height_mm);
}

static double
most_zoom (FwPageView *self)
{
  return fmin (MOST_ZOOM, MOST_PX / PX_PER_MM / fmax (self->width_mm, self->height_mm));
}

static void
large_paint (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  FwPageView *self = data;
  if (self->laid == NULL || self->page >= self->n)
    return;
  double scale = self->zoom > 0 ? self->zoom * PX_PER_MM : fit_scale (self, width, height);
  if (scale <= 0)
    return;
  double w = self->width_mm * scale, h = self->height_mm * scale;
  double x = floor (fmax ((width - w) / 2, 0)), y = floor (fmax ((height - h) / 2, 0));
  page_paint (self, cr, self->page, x, y, scale);
  rim_paint (cr, x, y, w, h);
}

static void
view_tell (FwPageView *self)
{
  g_autofree char *text = self->n > 0
                              /* Translators: which page of how many is in sight */
                              ? g_strdup_printf (_("Page %d of %d"), self->page + 1, self->n)
                              : g_strdup (_("No pages"));
  g_autofree char *name = g_strdup_printf (C_ ("page in sight", "%s, %s"), self->name, text);
  gtk_label_set_text (GTK_LABEL (self->which), text);
  fw_widget_describe (self->large, name, NULL);
}

static void
view_resize_large (FwPageView *self)
{
  double scale = self->zoom * PX_PER_MM;
  int width = self->zoom > 0 ? (int) (self->width_mm * scale) + 2 * AROUND : 0;
  int height = self->zoom > 0 ? (int) (self->height_mm * scale) + 2 * AROUND : 0;
  gtk_drawing_area_set_content_width (GTK_DRAWING_AREA (self->large), width);
  gtk_drawing_area_set_content_height (GTK_DRAWING_AREA (self->large), height);
  gtk_widget_queue_draw (self->large);
}

void
fw_page_view_zoom (FwPageView *self, double factor)
{
  if (self->laid == NULL)
    return;
  double now = self->zoom;
  if (now <= 0)
    now = fit_scale (self, gtk_widget_get_width (self->scroller), gtk_widget_get_height (self->scroller)) / PX_PER_MM;
  self->zoom = factor > 0 ? CLAMP (now * factor, LEAST_ZOOM, fmax (most_zoom (self), LEAST_ZOOM)) : 0;
  view_resize_large (self);
}

static void
on_smaller (FwPageView *self)
{
  fw_page_view_zoom (self, 1 / STEP);
}

static void
on_larger (FwPageView *self)
{
  fw_page_view_zoom (self, STEP);
}

static void
on_whole (FwPageView *self)
{
  fw_page_view_zoom (self, 0);
}

static gboolean
on_scroll (GtkEventControllerScroll *controller, double dx, double dy, FwPageView *self)
{
  if ((gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (controller)) & GDK_CONTROL_MASK) == 0)
    return GDK_EVENT_PROPAGATE;
  fw_page_view_zoom (self, dy < 0 ? STEP : 1 / STEP);
  return GDK_EVENT_STOP;
}

static void
on_pan_begin (GtkGestureDrag *gesture, double x, double y, FwPageView *self)
{
  GtkScrolledWindow *scroller = GTK_SCROLLED_WINDOW (self->scroller);
  double *from = g_object_get_data (G_OBJECT (gesture), "from");
  from[0] = gtk_adjustment_get_value (gtk_scrolled_window_get_hadjustment (scroller));
  from[1] = gtk_adjustment_get_value (gtk_scrolled_window_get_vadjustment (scroller));
  gtk_widget_grab_focus (self->scroller);
}

static void
on_pan (GtkGestureDrag *gesture, double dx, double dy, FwPageView *self)
{
  GtkScrolledWindow *scroller = GTK_SCROLLED_WINDOW (self->scroller);
  const double *from = g_object_get_data (G_OBJECT (gesture), "from");
  gtk_adjustment_set_value (gtk_scrolled_window_get_hadjustment (scroller), from[0] - dx);
  gtk_adjustment_set_value (gtk_scrolled_window_get_vadjustment (scroller), from[1] - dy);
}

/* ---- Leafing ---- */

static void
on_selected (FwPageView *self)
{
  guint selected = gtk_single_selection_get_selected (self->selection);
  if (selected == GTK_INVALID_LIST_POSITION)
    return;
  self->page = (int) selected;
  view_tell (self);
  gtk_widget_queue_draw (self->large);
}

static void
view_go (FwPageView *self, int page)
{
  if (page < 0 || page >= self->n)
    return;
  gtk_single_selection_set_selected (self->selection, (guint) page);
  gtk_widget_activate_action (self->list, "list.scroll-to-item", "u", (guint) page);
}

static gboolean
on_key (GtkEventControllerKey *controller, guint key, guint code, GdkModifierType mods, FwPageView *self)
{
  if ((mods & (GDK_CONTROL_MASK | GDK_ALT_MASK)) != 0)
    return GDK_EVENT_PROPAGATE;
  switch (key)
    {
    case GDK_KEY_plus:
    case GDK_KEY_equal:
    case GDK_KEY_KP_Add:
      on_larger (self);
      return GDK_EVENT_STOP;
    case GDK_KEY_minus:
    case GDK_KEY_KP_Subtract:
      on_smaller (self);
      return GDK_EVENT_STOP;
    case GDK_KEY_0:
    case GDK_KEY_KP_0:
      on_whole (self);
      return GDK_EVENT_STOP;
    case GDK_KEY_Page_Down:
      view_go (self, self->page + 1);
      return GDK_EVENT_STOP;
    case GDK_KEY_Page_Up:
      view_go (self, self->page - 1);
      return GDK_EVENT_STOP;
    default:
      return GDK_EVENT_PROPAGATE;
    }
}

/* New titles only where their number changed: the list keeps its place. */
static void
view_set_titles (FwPageView *self, int n)
{
  guint had = g_list_model_get_n_items (G_LIST_MODEL (self->titles));
  if ((guint) n < had)
    gtk_string_list_splice (self->titles, (guint) n, had - (guint) n, NULL);
  if ((guint) n <= had)
    return;
  g_autoptr (GPtrArray) more = g_ptr_array_new_with_free_func (g_free);
  for (int i = (int) had; i < n; i++)
    /* Translators: under a small page */
    g_ptr_array_add (more, g_strdup_printf (_("Page %d"), i + 1));
  g_ptr_array_add (more, NULL);
  gtk_string_list_splice (self->titles, had, 0, (const char *const *) more->pdata);
}

void
fw_page_view_set (FwPageView *self, FwLaid *laid, int n, double width_mm, double height_mm)
{
  FwLaid *before = self->laid;
  gboolean other_size = width_mm != self->width_mm || height_mm != self->height_mm;

  self->laid = laid != NULL ? fw_laid_ref (laid) : NULL;
  self->n = n;
  self->width_mm = width_mm;
  self->height_mm = height_mm;
  if (other_size)
    self->zoom = 0;
  g_hash_table_remove_all (self->small);
  g_array_set_size (self->wanted, 0);
  self->page = CLAMP (self->page, 0, MAX (n - 1, 0));
  int page = self->page;
  view_set_titles (self, n);
  if (n > 0)
    gtk_single_selection_set_selected (self->selection, (guint) page);
  for (guint i = 0; i < self->areas->len; i++)
    gtk_widget_queue_draw (self->areas->pdata[i]);
  view_tell (self);
  view_resize_large (self);
  fw_laid_unref (before);
}

/* ---- Object ---- */

static GtkWidget *
tool_button (GtkWidget *bar, const char *icon, const char *name, GCallback pressed, FwPageView *self)
{
  GtkWidget *button = gtk_button_new_from_icon_name (icon);
  gtk_widget_add_css_class (button, "flat");
  gtk_widget_set_tooltip_text (button, name);
  fw_widget_describe (button, name, NULL);
  g_signal_connect_swapped (button, "clicked", pressed, self);
  gtk_box_append (GTK_BOX (bar), button);
  return button;
}

static GtkWidget *
view_small_column (FwPageView *self)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();
  GtkWidget *scroller = gtk_scrolled_window_new ();

  self->titles = gtk_string_list_new (NULL);
  self->selection = gtk_single_selection_new (G_LIST_MODEL (self->titles));
  g_signal_connect_swapped (factory, "setup", G_CALLBACK (on_setup), self);
  g_signal_connect_swapped (factory, "bind", G_CALLBACK (on_bind), self);
  g_signal_connect_swapped (factory, "unbind", G_CALLBACK (on_unbind), self);
  g_signal_connect_object (self->selection, "notify::selected", G_CALLBACK (on_selected), self, G_CONNECT_SWAPPED);
  self->list = gtk_list_view_new (GTK_SELECTION_MODEL (self->selection), factory);
  gtk_widget_add_css_class (self->list, "page-list");
  g_autofree char *name = g_strdup_printf (C_ ("a list of pages", "Pages: %s"), self->name);
  fw_widget_describe (self->list, name, NULL);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), self->list);
  fw_widget_describe (scroller, name, NULL);
  gtk_widget_set_size_request (scroller, SMALL_WIDTH + 42, -1);
  return scroller;
}

static void
view_add_controllers (FwPageView *self)
{
  GtkEventController *scroll = gtk_event_controller_scroll_new (GTK_EVENT_CONTROLLER_SCROLL_VERTICAL);
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkGesture *pan = gtk_gesture_drag_new ();

  gtk_event_controller_set_propagation_phase (scroll, GTK_PHASE_CAPTURE);
  g_signal_connect (scroll, "scroll", G_CALLBACK (on_scroll), self);
  gtk_widget_add_controller (self->scroller, scroll);
  g_object_set_data_full (G_OBJECT (pan), "from", g_new0 (double, 2), g_free);
  g_signal_connect (pan, "drag-begin", G_CALLBACK (on_pan_begin), self);
  g_signal_connect (pan, "drag-update", G_CALLBACK (on_pan), self);
  gtk_widget_add_controller (self->large, GTK_EVENT_CONTROLLER (pan));
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_key), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
}

static GtkWidget *
view_large_column (FwPageView *self)
{
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0), *bar = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);

  self->which = gtk_label_new (NULL);
  gtk_widget_set_hexpand (self->which, TRUE);
  gtk_label_set_xalign (GTK_LABEL (self->which), 0);
  gtk_box_append (GTK_BOX (bar), self->which);
  tool_button (bar, "zoom-out-symbolic", _("Smaller (−)"), G_CALLBACK (on_smaller), self);
  tool_button (bar, "zoom-fit-best-symbolic", _("Whole page (0)"), G_CALLBACK (on_whole), self);
  tool_button (bar, "zoom-in-symbolic", _("Larger (+)"), G_CALLBACK (on_larger), self);
  gtk_widget_add_css_class (bar, "page-bar");
  gtk_box_append (GTK_BOX (column), bar);

  self->large = g_object_new (GTK_TYPE_DRAWING_AREA, "accessible-role", GTK_ACCESSIBLE_ROLE_IMG, NULL);
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (self->large), large_paint, self, NULL);
  self->scroller = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->scroller), self->large);
  gtk_widget_set_focusable (self->scroller, TRUE);
  fw_widget_describe (self->scroller, _("The page, large"), NULL);
  gtk_widget_set_vexpand (self->scroller, TRUE);
  gtk_widget_set_hexpand (self->scroller, TRUE);
  gtk_box_append (GTK_BOX (column), self->scroller);
  return column;
}

static void
fw_page_view_dispose (GObject *object)
{
  FwPageView *self = FW_PAGE_VIEW (object);

  g_clear_handle_id (&self->painting, g_source_remove);
  g_clear_pointer (&self->row, gtk_widget_unparent);
  g_clear_pointer (&self->laid, fw_laid_unref);
  G_OBJECT_CLASS (fw_page_view_parent_class)->dispose (object);
}

static void
fw_page_view_finalize (GObject *object)
{
  FwPageView *self = FW_PAGE_VIEW (object);

  g_hash_table_unref (self->small);
  g_ptr_array_unref (self->areas);
  g_array_unref (self->wanted);
  g_free (self->name);
  G_OBJECT_CLASS (fw_page_view_parent_class)->finalize (object);
}

/* The keyboard goes to the large page. */
static gboolean
fw_page_view_grab_focus (GtkWidget *widget)
{
  return gtk_widget_grab_focus (FW_PAGE_VIEW (widget)->scroller);
}

static void
fw_page_view_class_init (FwPageViewClass *class)
{
  GTK_WIDGET_CLASS (class)->grab_focus = fw_page_view_grab_focus;
  G_OBJECT_CLASS (class)->dispose = fw_page_view_dispose;
  G_OBJECT_CLASS (class)->finalize = fw_page_view_finalize;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (class), "page-view");
}

static void
fw_page_view_init (FwPageView *self)
{
  self->small = g_hash_table_new_full (NULL, NULL, NULL, (GDestroyNotify) cairo_surface_destroy);
  self->areas = g_ptr_array_new ();
  self->wanted = g_array_new (FALSE, FALSE, sizeof (int));
  self->width_mm = self->height_mm = 100;
}

GtkWidget *
fw_page_view_new (const char *name, FwPageDraw draw)
{
  FwPageView *self = g_object_new (FW_TYPE_PAGE_VIEW, NULL);

  self->name = g_strdup (name);
  self->draw = draw;
  self->row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  gtk_widget_set_parent (self->row, GTK_WIDGET (self));
  gtk_box_append (GTK_BOX (self->row), view_small_column (self));
  gtk_box_append (GTK_BOX (self->row), gtk_separator_new (GTK_ORIENTATION_VERTICAL));
  gtk_box_append (GTK_BOX (self->row), view_large_column (self));
  view_add_controllers (self);
  view_tell (self);
  return GTK_WIDGET (self);
}
