#include "app/canvasprivate.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/canvaswords.h"
#include "app/ghostdrag.h"
#include "app/widgetstyle.h"

#define ZOOM_STEP 1.25
#define SETTLE_MS 120
#define DESCRIBE_MS 300

G_DEFINE_FINAL_TYPE (FwCanvas, fw_canvas, GTK_TYPE_WIDGET)

/* ---- Camera ---- */

gboolean
fw_canvas_is_ready (FwCanvas *self)
{
  const FwScene *scene = fw_session_scene (self->session);
  return scene != NULL && scene->mechanism != NULL && self->width > 0 && self->height > 0;
}

static FwBox
canvas_page (FwCanvas *self)
{
  return (FwBox) { 0, 0, self->width, self->height };
}

void
fw_canvas_camera_moved (FwCanvas *self)
{
  fw_canvas_find_handles (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static gboolean
on_settle (gpointer data)
{
  FwCanvas *self = data;
  gboolean held = fw_session_dragging (self->session);

  self->settle = 0;
  if (!held && !self->by_hand && fw_canvas_is_ready (self) && !fw_canvas_stands_well (self))
    fw_canvas_refit (self);
  return G_SOURCE_REMOVE;
}

/* The page's scale holds still until the hand lets go; the session says so when it does. */
static void
canvas_settle_soon (FwCanvas *self)
{
  if (self->settle == 0 && !fw_session_dragging (self->session))
    self->settle = g_timeout_add (SETTLE_MS, on_settle, self);
}

void
fw_canvas_zoom_about (FwCanvas *self, double factor, double x, double y)
{
  if (!fw_canvas_is_ready (self))
    return;
  double scale = CLAMP (self->camera.scale * factor, 0.005, 200);

  factor = scale / self->camera.scale;
  self->camera.scale = scale;
  self->camera.x = x + (self->camera.x - x) * factor;
  self->camera.y = y + (self->camera.y - y) * factor;
  self->by_hand = TRUE;
  fw_canvas_camera_moved (self);
}

void
fw_canvas_pan_to (FwCanvas *self, double x, double y)
{
  self->camera.x = x;
  self->camera.y = y;
  self->by_hand = TRUE;
  fw_canvas_camera_moved (self);
}

void
fw_canvas_fit (FwCanvas *self)
{
  g_return_if_fail (FW_IS_CANVAS (self));
  self->by_hand = FALSE;
  fw_canvas_refit (self);
}

void
fw_canvas_zoom_in (FwCanvas *self)
{
  g_return_if_fail (FW_IS_CANVAS (self));
  fw_canvas_zoom_about (self, ZOOM_STEP, self->width / 2.0, self->height / 2.0);
}

void
fw_canvas_zoom_out (FwCanvas *self)
{
  g_return_if_fail (FW_IS_CANVAS (self));
  fw_canvas_zoom_about (self, 1 / ZOOM_STEP, self->width / 2.0, self->height / 2.0);
}

/* ---- Handles ---- */

void
fw_canvas_find_handles (FwCanvas *self)
{
  self->n_handles = 0;
  if (!fw_canvas_is_ready (self) || !(fw_session_show (self->session) & FW_SHOW_HANDLES))
    {
      fw_canvas_mark (self, NULL);
      return;
    }
  self->n_handles = fw_view_handles (fw_session_scene (self->session), &self->camera, self->handles,
                                     FW_CANVAS_HANDLES);
  self->n_handles = MIN (self->n_handles, FW_CANVAS_HANDLES);
  if (!self->has_marked)
    return;
  for (int i = 0; i < self->n_handles; i++)
    if (fw_handle_same (&self->handles[i], &self->marked))
      {
        fw_canvas_mark (self, &self->handles[i]);
        return;
      }
  fw_canvas_mark (self, NULL);
}

void
fw_canvas_mark (FwCanvas *self, const FwHandle *handle)
{
  if (handle == NULL && !self->has_marked)
    return;
  self->has_marked = handle != NULL;
  if (handle != NULL)
    {
      char *words = fw_canvas_handle_words (self, handle);

      self->marked = *handle;
      if (!g_str_equal (words, gtk_label_get_text (GTK_LABEL (self->tip))))
        gtk_label_set_text (GTK_LABEL (self->tip), words);
      g_free (words);
    }
  gtk_widget_set_child_visible (self->tip, handle != NULL);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/* ---- Words ---- */

static gboolean
on_describe (gpointer data)
{
  FwCanvas *self = data;
  char *words = fw_canvas_description (self->session);

  self->describe = 0;
  fw_widget_describe (GTK_WIDGET (self), fw_canvas_view_name (self->view), words);
  g_free (words);
  return G_SOURCE_REMOVE;
}

/* Once it stands still, not at each frame of a turn that is played: a reader could not follow. */
static void
describe_soon (FwCanvas *self)
{
  g_clear_handle_id (&self->describe, g_source_remove);
  self->describe = g_timeout_add (DESCRIBE_MS, on_describe, self);
}

/* ---- What the session says ---- */

static void
on_pose (FwCanvas *self)
{
  if (self->has_marked)
    fw_canvas_find_handles (self);
  describe_soon (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
on_design (FwCanvas *self)
{
  const FwDocument *doc = fw_session_document (self->session);

  if (doc != self->document)
    {
      self->document = doc;
      fw_canvas_fit (self);
    }
  fw_still_forget (self->still);
  canvas_settle_soon (self);
  fw_canvas_find_handles (self);
  describe_soon (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
on_display (FwCanvas *self)
{
  fw_still_forget (self->still);
  canvas_settle_soon (self);
  fw_canvas_find_handles (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
on_picked (FwCanvas *self)
{
  describe_soon (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/* ---- Picture ---- */

static void
canvas_paint_mark (FwCanvas *self, cairo_t *cr, const FwStyle *style)
{
  FwColour halo = style->motion;

  halo.a = 0.25;
  cairo_arc (cr, self->marked.at.x, self->marked.at.y, FW_CANVAS_REACH, 0, 2 * G_PI);
  fw_set_colour (cr, halo);
  cairo_fill_preserve (cr);
  fw_set_colour (cr, style->motion);
  cairo_set_line_width (cr, style->wide);
  cairo_stroke (cr);
}

/* Beside the handle, on the side where there is room. */
static void
canvas_snapshot_tip (FwCanvas *self, GtkSnapshot *snapshot)
{
  GtkRequisition size;

  gtk_widget_get_preferred_size (self->tip, NULL, &size);
  double x = self->marked.at.x + 18, y = self->marked.at.y - 18 - size.height;
  if (x + size.width > self->width - 4)
    x = self->marked.at.x - 18 - size.width;
  if (y < 4)
    y = self->marked.at.y + 18;
  gtk_snapshot_save (snapshot);
  gtk_snapshot_translate (snapshot, &GRAPHENE_POINT_INIT ((float) MAX (round (x), 4), (float) round (y)));
  gtk_widget_snapshot_child (GTK_WIDGET (self), self->tip, snapshot);
  gtk_snapshot_restore (snapshot);
}

static void
canvas_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  FwCanvas *self = FW_CANVAS (widget);
  FwStyle style = fw_canvas_style (self);
  float width = (float) self->width, height = (float) self->height;

  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, width, height));
  fw_still_set_scale (self->still, gtk_widget_get_scale_factor (widget));
  if (fw_canvas_is_ready (self))
    fw_draw_view_kept (cr, self->still, fw_session_scene (self->session), &self->camera, &style,
                       canvas_page (self), fw_session_show (self->session), fw_session_picked (self->session));
  else
    {
      fw_set_colour (cr, style.ground);
      cairo_paint (cr);
    }
  if (self->has_marked)
    canvas_paint_mark (self, cr, &style);
  cairo_destroy (cr);
  if (self->has_marked)
    canvas_snapshot_tip (self, snapshot);
}

static void
canvas_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                int *minimum_baseline, int *natural_baseline)
{
  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? 160 : 120;
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? 480 : 400;
}

static void
canvas_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  FwCanvas *self = FW_CANVAS (widget);
  int was_width = self->width, was_height = self->height;
  GtkRequisition tip;

  self->width = width;
  self->height = height;
  if (width != was_width || height != was_height)
    {
      if (!self->by_hand || was_width == 0)
        fw_canvas_refit (self);
      else
        fw_canvas_pan_to (self, self->camera.x + (width - was_width) / 2.0,
                          self->camera.y + (height - was_height) / 2.0);
    }
  /* Where it stands is for the drawing: a handle moves while views are laid out, and no layout may be asked for then. */
  gtk_widget_get_preferred_size (self->tip, NULL, &tip);
  gtk_widget_allocate (self->tip, tip.width, tip.height, -1, NULL);
}

/* ---- Object ---- */

static void
canvas_unmap (GtkWidget *widget)
{
  fw_canvas_end_nudge (FW_CANVAS (widget));
  fw_canvas_move_finish (FW_CANVAS (widget));
  fw_ghost_drag_cancel (FW_CANVAS (widget));
  fw_still_forget (FW_CANVAS (widget)->still);
  GTK_WIDGET_CLASS (fw_canvas_parent_class)->unmap (widget);
}

static void
canvas_dispose (GObject *object)
{
  FwCanvas *self = FW_CANVAS (object);

  g_clear_handle_id (&self->settle, g_source_remove);
  g_clear_handle_id (&self->describe, g_source_remove);
  g_clear_handle_id (&self->move_end, g_source_remove);
  g_clear_weak_pointer (&self->beside);
  g_clear_pointer (&self->tip, gtk_widget_unparent);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (fw_canvas_parent_class)->dispose (object);
}

static void
canvas_finalize (GObject *object)
{
  g_free (FW_CANVAS (object)->handles);
  fw_still_free (FW_CANVAS (object)->still);
  G_OBJECT_CLASS (fw_canvas_parent_class)->finalize (object);
}

static void
fw_canvas_class_init (FwCanvasClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = canvas_dispose;
  G_OBJECT_CLASS (class)->finalize = canvas_finalize;
  widget_class->snapshot = canvas_snapshot;
  widget_class->measure = canvas_measure;
  widget_class->size_allocate = canvas_size_allocate;
  widget_class->unmap = canvas_unmap;
  gtk_widget_class_set_css_name (widget_class, "canvas");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
fw_canvas_init (FwCanvas *self)
{
  self->handles = g_new0 (FwHandle, FW_CANVAS_HANDLES);
  self->still = fw_still_new ();
  self->tip = g_object_new (GTK_TYPE_LABEL, "accessible-role", GTK_ACCESSIBLE_ROLE_STATUS, "can-target", FALSE,
                            "justify", GTK_JUSTIFY_LEFT, NULL);
  fw_widget_style_add ();
  gtk_widget_add_css_class (GTK_WIDGET (self), "canvas");
  gtk_widget_add_css_class (self->tip, "handle-tip");
  gtk_widget_set_parent (self->tip, GTK_WIDGET (self));
  gtk_widget_set_child_visible (self->tip, FALSE);
  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  gtk_widget_set_hexpand (GTK_WIDGET (self), TRUE);
  gtk_widget_set_vexpand (GTK_WIDGET (self), TRUE);
  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);
  fw_canvas_add_mouse (self);
  fw_canvas_add_keys (self);
}

GtkWidget *
fw_canvas_new (FwSession *session, FwView view)
{
  FwCanvas *self = g_object_new (FW_TYPE_CANVAS, NULL);

  self->session = g_object_ref (session);
  self->view = view;
  self->document = fw_session_document (session);
  fw_widget_describe (GTK_WIDGET (self), fw_canvas_view_name (view), NULL);
  g_signal_connect_object (session, "design-changed", G_CALLBACK (on_design), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "pose-changed", G_CALLBACK (on_pose), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "picked-changed", G_CALLBACK (on_picked), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "display-changed", G_CALLBACK (on_display), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "bounces-changed", G_CALLBACK (gtk_widget_queue_draw), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "ghosts-changed", G_CALLBACK (gtk_widget_queue_draw), self, G_CONNECT_SWAPPED);
  describe_soon (self);
  return GTK_WIDGET (self);
}

void
fw_canvas_set_view (FwCanvas *self, FwView view)
{
  g_return_if_fail (FW_IS_CANVAS (self));
  if (self->view == view)
    return;
  self->view = view;
  fw_canvas_mark (self, NULL);
  fw_canvas_fit (self);
  describe_soon (self);
}

FwView
fw_canvas_view (FwCanvas *self)
{
  return self->view;
}
