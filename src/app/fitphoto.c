#include "app/fitphoto.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/choose.h"
#include "app/controls.h"
#include "app/fitdrop.h"
#include "app/fitpoint.h"
#include "app/tolerancesession.h"
#include "app/widgetstyle.h"
#include "app/windowprivate.h"

#define LARGEST 2400 /* px: more than a view ever shows */

typedef enum { IDLE, BY_POINTS, BY_DISTANCE, READING } Doing;

struct _FwFitPhoto
{
  GtkWidget parent_instance;

  FwWindow *window;   /* borrowed: this is inside it */
  FwSession *session; /* owned */
  FwFitTable *table;  /* borrowed: beside this */
  FwPhoto photo;
  FwPointer *pointer;
  GCancellable *cancel;
  const FwDocument *doc; /* only compared */
  Doing doing;
  FwLengths lengths; /* that a bare number in the field of the known length was typed in */
  gboolean used;     /* what stands in that field was measured with */
  FwVec2 points[4];   /* mm in the plane, as clicked */
  int n_points;
  GtkWidget *load, *clear, *tools, *view, *opacity, *by_points, *distance, *by_distance, *panel, *read, *state;
};

G_DEFINE_FINAL_TYPE (FwFitPhoto, fw_fit_photo, GTK_TYPE_WIDGET)

static void
photo_say (FwFitPhoto *self, const char *text)
{
  gtk_label_set_text (GTK_LABEL (self->state), text);
  gtk_widget_set_visible (self->state, *text != '\0');
}

/* Without a photograph there is nothing to do but to choose one. */
static void
photo_show (FwFitPhoto *self)
{
  gboolean any = self->photo.picture != NULL;
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));
  GtkWidget *focus = root != NULL ? gtk_root_get_focus (root) : NULL;

  if (!any && focus != NULL && gtk_widget_is_ancestor (focus, GTK_WIDGET (self)))
    gtk_widget_grab_focus (self->load);
  gtk_widget_set_visible (self->clear, any);
  gtk_widget_set_visible (self->tools, any);
  fw_session_set_photo (self->session, any ? &self->photo : NULL);
}

/* ---- What is asked for next ---- */

static void
photo_ask (FwFitPhoto *self)
{
  static const char *const place[] = {
    N_ ("Press the first point on the photograph: something that you know, such as the crank's axis. Escape ends."),
    N_ ("Press where that point is in the drawing."),
    N_ ("Press a second point on the photograph, far from the first, such as the top of the post."),
    N_ ("Press where that point is in the drawing."),
  };
  static const char *const apart[] = {
    N_ ("Press one end of the known length on the photograph. Escape ends."),
    N_ ("Press its other end."),
  };
  static const char *const reading[] = {
    N_ ("Press the panel's hinge on the photograph. Escape ends."),
    N_ ("Press the panel's tip."),
  };
  const char *const *words = self->doing == BY_POINTS ? place : self->doing == BY_DISTANCE ? apart : reading;
  if (self->doing != IDLE)
    photo_say (self, _ (words[self->n_points]));
}

static void
photo_mark (FwFitPhoto *self)
{
  self->photo.n_marks = self->n_points;
  for (int i = 0; i < self->n_points; i++)
    self->photo.marks[i] = self->points[i];
  photo_show (self);
}

static void
photo_set_doing (FwFitPhoto *self, Doing doing)
{
  GtkWidget *const buttons[] = { NULL, self->by_points, self->by_distance, self->read };
  self->doing = doing;
  self->n_points = 0;
  for (int i = BY_POINTS; i <= READING; i++)
    gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (buttons[i]), doing == (Doing) i);
  fw_pointer_set_on (self->pointer, doing != IDLE);
  photo_mark (self);
  photo_ask (self);
}

/* The views as they must be for the photograph's view to be in sight. */
static void
photo_bring_view (FwFitPhoto *self)
{
  gboolean side = self->photo.view == FW_VIEW_SIDE;
  GtkWidget *canvas = self->window->canvas[side ? 1 : 0];
  if (!gtk_widget_get_visible (canvas) || fw_canvas_view (FW_CANVAS (canvas)) != self->photo.view)
    g_action_group_change_action_state (G_ACTION_GROUP (self->window), "view", g_variant_new_string (side ? "side" : "front"));
}

static void
photo_start (FwFitPhoto *self, GtkWidget *button, Doing doing)
{
  gboolean on = gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (button));
  if (on == (self->doing == doing))
    return;
  if (on)
    photo_bring_view (self);
  photo_set_doing (self, on ? doing : IDLE);
  if (!on)
    photo_say (self, "");
}

static void
on_by_points (FwFitPhoto *self)
{
  photo_start (self, self->by_points, BY_POINTS);
}

static void
on_by_distance (FwFitPhoto *self)
{
  photo_start (self, self->by_distance, BY_DISTANCE);
}

static void
on_read (FwFitPhoto *self)
{
  photo_start (self, self->read, READING);
}

/* ---- Points ---- */

static void
photo_say_place (FwFitPhoto *self)
{
  FwLengths lengths = fw_session_lengths (self->session);
  gboolean inch = lengths == FW_LENGTHS_INCH; /* in decimals: much less than the fractions of a rule */
  double mm = fw_photo_scale (&self->photo.place);
  g_autofree char *pixel = g_strdup_printf ("%.*f %s", inch ? 4 : 3, inch ? mm / 25.4 : mm, fw_units_symbol (FW_UNIT_MM, lengths));
  /* Translators: %s is the length of the real thing that one pixel shows, with its unit; degrees. */
  g_autofree char *text = g_strdup_printf (_ ("Placed: one pixel is %s, tilted by %.1f°. Now read panels off it."),
                                           pixel, fw_photo_tilt_deg (&self->photo.place));
  photo_say (self, text);
}

static void
photo_place_by_points (FwFitPhoto *self)
{
  const FwPhotoPlace *now = &self->photo.place;
  const FwVec2 pixels[2] = { fw_photo_from_plane (now, self->points[0]), fw_photo_from_plane (now, self->points[2]) };
  const FwVec2 plane[2] = { self->points[1], self->points[3] };
  gboolean placed = fw_photo_place_by_points (pixels, plane, &self->photo.place);
  photo_set_doing (self, IDLE);
  if (placed)
    photo_say_place (self);
  else
    photo_say (self, _ ("Two points were expected, one far from the other: the photograph stays where it was."));
}

static void
photo_place_by_distance (FwFitPhoto *self)
{
  const FwPhotoPlace *now = &self->photo.place;
  const FwVec2 pixels[2] = { fw_photo_from_plane (now, self->points[0]), fw_photo_from_plane (now, self->points[1]) };
  double mm = 0;
  g_autoptr (GError) error = NULL;
  self->used = TRUE;
  gboolean good = fw_units_parse (gtk_editable_get_text (GTK_EDITABLE (self->distance)), FW_UNIT_MM,
                                  fw_session_lengths (self->session), &mm, &error)
                  && fw_photo_place_by_distance (pixels, mm, &self->photo.place);
  photo_set_doing (self, IDLE);
  if (good)
    photo_say_place (self);
  else
    photo_say (self, error != NULL ? error->message
                                   : _ ("A length above 0 between two points was expected: the photograph stays as it was."));
}

static int
photo_member (FwFitPhoto *self)
{
  guint chosen = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->panel));
  const FwMechanism *mech = fw_session_scene (self->session)->mechanism;
  return mech != NULL && chosen < (guint) mech->n_members ? (int) chosen : -1;
}

static void
photo_read_angle (FwFitPhoto *self)
{
  const FwScene *scene = fw_session_scene (self->session);
  int member = photo_member (self);
  double degrees = fw_session_crank (self->session) * 180 / G_PI, angle = NAN;
  FwVec2 hinge = self->points[0], tip = self->points[1];

  photo_set_doing (self, READING);
  if (member < 0)
    return;
  g_autofree double *known = g_new (double, scene->mechanism->n_members + 1);
  for (int i = 0; i < scene->mechanism->n_members; i++)
    known[i] = fw_fit_table_angle (self->table, i, degrees);
  g_autofree char *name = g_strdup (scene->mechanism->members[member].name); /* an edit makes another mechanism */
  if (!fw_photo_read_angle (scene->mechanism, scene->pose, known, self->photo.view, member, hinge, tip, &angle))
    {
      g_autofree char *text = g_strdup_printf (_ ("This view cannot tell the angle of %s from these points."), name);
      photo_say (self, text);
      return;
    }
  double value = round (angle * 180 / G_PI * 100) / 100;
  g_autofree char *what = fw_measured_column (scene->mechanism, FW_MEASURED_ANGLE, member);
  fw_fit_table_add (self->table, round (degrees * 100) / 100, what, value);
  /* Translators: a panel, its angle, the crank angle. */
  g_autofree char *text = g_strdup_printf (_ ("%s: %.2f° at %.1f° of the crank. Press the hinge of the next panel."), name, value, degrees);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->panel), (guint) ((member + 1) % scene->mechanism->n_members));
  photo_say (self, text);
}

static void
on_pointed (FwVec2 plane, gpointer data)
{
  FwFitPhoto *self = data;
  self->points[self->n_points++] = plane;
  photo_mark (self);
  if (self->doing == BY_POINTS && self->n_points == 4)
    photo_place_by_points (self);
  else if (self->doing == BY_DISTANCE && self->n_points == 2)
    photo_place_by_distance (self);
  else if (self->doing == READING && self->n_points == 2)
    photo_read_angle (self);
  else
    photo_ask (self);
}

static void
on_moved (gpointer data)
{
  photo_show (data);
}

static void
on_ended (gpointer data)
{
  photo_set_doing (data, IDLE);
  photo_say (data, "");
}

/* ---- Loading ---- */

static cairo_surface_t *
load_picture (const char *path, GError **error)
{
  int width = 0, height = 0;
  GdkPixbuf *pixbuf, *upright;

  if (gdk_pixbuf_get_file_info (path, &width, &height) != NULL && MAX (width, height) > LARGEST)
    pixbuf = gdk_pixbuf_new_from_file_at_scale (path, LARGEST, LARGEST, TRUE, error);
  else
    pixbuf = gdk_pixbuf_new_from_file (path, error);
  if (pixbuf == NULL)
    return NULL;
  upright = gdk_pixbuf_apply_embedded_orientation (pixbuf); /* as the camera was held */
  g_object_unref (pixbuf);
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, gdk_pixbuf_get_width (upright),
                                                         gdk_pixbuf_get_height (upright));
  cairo_t *cr = cairo_create (surface);
  gdk_cairo_set_source_pixbuf (cr, upright, 0, 0);
  cairo_paint (cr);
  cairo_destroy (cr);
  g_object_unref (upright);
  return surface;
}

static void
load_thread (GTask *task, gpointer source, gpointer path, GCancellable *cancel)
{
  GError *error = NULL;
  cairo_surface_t *surface = load_picture (path, &error);
  if (surface != NULL)
    g_task_return_pointer (task, surface, (GDestroyNotify) cairo_surface_destroy);
  else
    g_task_return_error (task, error);
}

static void
on_loaded (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (GError) error = NULL;
  cairo_surface_t *surface = g_task_propagate_pointer (G_TASK (result), &error);
  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return; /* the page is gone, or another was chosen */

  FwFitPhoto *self = FW_FIT_PHOTO (source);
  if (surface == NULL)
    {
      g_autofree char *name = g_filename_display_basename (g_task_get_task_data (G_TASK (result)));
      /* Translators: a file, and why it cannot be read. */
      g_autofree char *text = g_strdup_printf (_ ("%s: a picture was expected: %s"), name, error->message);
      photo_say (self, text);
      return;
    }
  g_clear_pointer (&self->photo.picture, cairo_surface_destroy);
  self->photo.picture = surface;
  self->photo.place = fw_photo_place_in (cairo_image_surface_get_width (surface), cairo_image_surface_get_height (surface),
                                         fw_view_extent (fw_session_scene (self->session), self->photo.view));
  photo_bring_view (self);
  photo_set_doing (self, IDLE);
  photo_say (self, _ ("Turn the crank here as it stands on the photograph, and place the photograph by two points."));
}

/* Loads a picture file beside the main loop; says in the page what went wrong. */
static void
load_photo (FwFitPhoto *self, const char *path)
{
  g_cancellable_cancel (self->cancel);
  g_object_unref (self->cancel);
  self->cancel = g_cancellable_new ();
  GTask *task = g_task_new (self, self->cancel, on_loaded, NULL);
  g_task_set_task_data (task, g_strdup (path), g_free);
  g_task_run_in_thread (task, load_thread);
  g_object_unref (task);
}

static void
on_chosen (const char *path, gpointer data)
{
  g_autoptr (FwFitPhoto) self = data;
  if (path != NULL && self->session != NULL)
    load_photo (self, path);
}

static void
on_load (FwFitPhoto *self)
{
  static const char *const kinds[] = { "png", "jpg", "jpeg", "webp", NULL };
  const FwChoice choice = { .title = _ ("Lay a photograph under the view"), .accept = _ ("_Open"), .filter_name = _ ("Pictures"),
                            .kinds = kinds, .ending = ".png" };
  fw_choose_file (GTK_WINDOW (self->window), &choice, on_chosen, g_object_ref (self));
}

static void
on_clear (FwFitPhoto *self)
{
  photo_set_doing (self, IDLE);
  g_clear_pointer (&self->photo.picture, cairo_surface_destroy);
  photo_show (self);
  photo_say (self, "");
}

static void
on_view (FwFitPhoto *self)
{
  self->photo.view = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->view)) == 1 ? FW_VIEW_SIDE : FW_VIEW_FRONT;
  photo_set_doing (self, IDLE);
  if (self->photo.picture != NULL)
    photo_bring_view (self);
}

static void
on_opacity (FwFitPhoto *self)
{
  self->photo.opacity = gtk_range_get_value (GTK_RANGE (self->opacity)) / 100;
  photo_show (self);
}

/* ---- What the session says ---- */

static void
on_design (FwFitPhoto *self)
{
  const FwMechanism *mech = fw_session_scene (self->session)->mechanism;
  const FwDocument *doc = fw_session_document (self->session);
  GListModel *shown = gtk_drop_down_get_model (GTK_DROP_DOWN (self->panel));
  gboolean same = mech != NULL && g_list_model_get_n_items (shown) == (guint) mech->n_members;

  if (doc != self->doc && self->doc != NULL)
    on_clear (self);
  self->doc = doc;
  for (int i = 0; same && i < mech->n_members; i++)
    same = g_str_equal (gtk_string_list_get_string (GTK_STRING_LIST (shown), (guint) i), mech->members[i].name);
  if (same || mech == NULL)
    return;
  GtkStringList *names = gtk_string_list_new (NULL);
  for (int i = 0; i < mech->n_members; i++)
    gtk_string_list_append (names, mech->members[i].name);
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->panel), G_LIST_MODEL (names));
  g_object_unref (names);
}

/* ---- The known length ---- */

/* A round one to begin with, as it is found on a rule. */
static char *
first_length (FwLengths lengths)
{
  return fw_units_format (lengths == FW_LENGTHS_INCH ? 4 * 25.4 : 100, FW_UNIT_MM, lengths, 0);
}

/* A bare number is as long in the other unit; what was typed with its unit stays. */
static void
on_display (FwFitPhoto *self)
{
  FwLengths before = self->lengths, now = fw_session_lengths (self->session);
  const char *text = gtk_editable_get_text (GTK_EDITABLE (self->distance));
  g_autofree char *first = first_length (before), *other = NULL;
  double mm, with_now;

  if (before == now)
    return;
  self->lengths = now;
  if (!self->used && g_str_equal (text, first))
    other = first_length (now);
  else if (fw_units_parse (text, FW_UNIT_MM, before, &mm, NULL) && fw_units_parse (text, FW_UNIT_MM, now, &with_now, NULL)
           && mm != with_now)
    other = fw_units_format (mm, FW_UNIT_MM, now, -1);
  if (other != NULL)
    gtk_editable_set_text (GTK_EDITABLE (self->distance), other);
}

/* ---- Object ---- */

static void
photo_dispose (GObject *object)
{
  FwFitPhoto *self = FW_FIT_PHOTO (object);

  if (self->session != NULL)
    {
      g_cancellable_cancel (self->cancel);
      g_clear_object (&self->cancel);
      fw_session_set_photo (self->session, NULL);
    }
  g_clear_pointer (&self->pointer, fw_pointer_free);
  g_clear_pointer (&self->photo.picture, cairo_surface_destroy);
  fw_widget_drop_children (GTK_WIDGET (self));
  g_clear_object (&self->session);
  G_OBJECT_CLASS (fw_fit_photo_parent_class)->dispose (object);
}

static void
fw_fit_photo_class_init (FwFitPhotoClass *class)
{
  G_OBJECT_CLASS (class)->dispose = photo_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (class), GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
fw_fit_photo_init (FwFitPhoto *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));
  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (layout), 6);
  fw_widget_describe (GTK_WIDGET (self), _ ("Photograph"), NULL);
  self->photo = (FwPhoto) { .view = FW_VIEW_FRONT, .place = { 1, 0, 0, 0 }, .opacity = 0.6 };
  self->cancel = g_cancellable_new ();
}

static GtkWidget *
toggle (FwFitPhoto *self, const char *label, GCallback pressed)
{
  GtkWidget *button = gtk_toggle_button_new_with_label (label), *words = gtk_button_get_child (GTK_BUTTON (button));
  /* Long in some languages: two lines rather than a wider window. */
  gtk_label_set_wrap (GTK_LABEL (words), TRUE);
  gtk_label_set_justify (GTK_LABEL (words), GTK_JUSTIFY_CENTER);
  g_signal_connect_swapped (button, "toggled", pressed, self);
  return button;
}

static GtkWidget *
photo_tools (FwFitPhoto *self)
{
  GtkGrid *grid = GTK_GRID (gtk_grid_new ());
  const char *views[] = { C_ ("under the", "Front view"), C_ ("under the", "Side view"), NULL };
  const char *none[] = { NULL };
  GtkWidget *way = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6), *reading = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);

  gtk_grid_set_row_spacing (grid, 6);
  gtk_grid_set_column_spacing (grid, 12);
  self->view = fw_form_add (grid, 0, C_ ("where the photograph lies", "_Under the"), gtk_drop_down_new_from_strings (views));
  g_signal_connect_swapped (self->view, "notify::selected", G_CALLBACK (on_view), self);
  self->opacity = fw_form_add (grid, 1, C_ ("how strongly the photograph shows", "St_rength"), gtk_scale_new_with_range (GTK_ORIENTATION_HORIZONTAL, 0, 100, 5));
  gtk_range_set_value (GTK_RANGE (self->opacity), 60);
  g_signal_connect_swapped (self->opacity, "value-changed", G_CALLBACK (on_opacity), self);
  self->by_points = toggle (self, _ ("Place by two points"), G_CALLBACK (on_by_points));
  gtk_grid_attach (grid, self->by_points, 0, 2, 2, 1);
  self->by_distance = toggle (self, _ ("Or by a known length"), G_CALLBACK (on_by_distance));
  self->distance = gtk_entry_new ();
  gtk_editable_set_width_chars (GTK_EDITABLE (self->distance), 8);
  g_autofree char *length = first_length (self->lengths);
  gtk_editable_set_text (GTK_EDITABLE (self->distance), length);
  fw_left_to_right (self->distance);
  fw_widget_describe (self->distance, _ ("Known length"), NULL);
  gtk_widget_set_hexpand (self->by_distance, TRUE);
  gtk_box_append (GTK_BOX (way), self->by_distance);
  gtk_box_append (GTK_BOX (way), self->distance);
  gtk_grid_attach (grid, way, 0, 3, 2, 1);
  self->read = toggle (self, _ ("Read the angle of"), G_CALLBACK (on_read));
  self->panel = fw_narrow_drop_down (G_LIST_MODEL (gtk_string_list_new (none)));
  fw_widget_describe (self->panel, _ ("Panel to read"), NULL);
  gtk_widget_set_hexpand (self->panel, TRUE);
  gtk_box_append (GTK_BOX (reading), self->read);
  gtk_box_append (GTK_BOX (reading), self->panel);
  gtk_grid_attach (grid, reading, 0, 4, 2, 1);
  return GTK_WIDGET (grid);
}

GtkWidget *
fw_fit_photo_new (FwWindow *window, FwFitTable *table)
{
  FwFitPhoto *self = g_object_new (FW_TYPE_FIT_PHOTO, NULL);
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);

  self->window = window;
  self->session = g_object_ref (fw_window_session (window));
  self->table = table;
  self->lengths = fw_session_lengths (self->session);
  self->load = fw_button_new (_ ("_Photograph…"));
  self->clear = fw_button_new (_ ("Take it a_way"));
  gtk_widget_set_hexpand (self->load, TRUE);
  g_signal_connect_swapped (self->load, "clicked", G_CALLBACK (on_load), self);
  g_signal_connect_swapped (self->clear, "clicked", G_CALLBACK (on_clear), self);
  gtk_box_append (GTK_BOX (row), self->load);
  gtk_box_append (GTK_BOX (row), self->clear);
  self->tools = photo_tools (self);
  self->state = g_object_new (GTK_TYPE_LABEL, "accessible-role", GTK_ACCESSIBLE_ROLE_STATUS, "wrap", TRUE, "xalign", 0.0, NULL);
  gtk_widget_add_css_class (self->state, "note");
  gtk_widget_set_visible (self->state, FALSE);
  gtk_widget_set_parent (row, GTK_WIDGET (self));
  gtk_widget_set_parent (self->tools, GTK_WIDGET (self));
  gtk_widget_set_parent (self->state, GTK_WIDGET (self));
  self->pointer = fw_pointer_new (window->canvas, &self->photo, on_pointed, on_moved, on_ended, self);
  g_signal_connect_object (self->session, "design-changed", G_CALLBACK (on_design), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->session, "display-changed", G_CALLBACK (on_display), self, G_CONNECT_SWAPPED);
  on_design (self);
  photo_show (self);
  return GTK_WIDGET (self);
}
