#include "app/demolist.h"

#include <glib/gi18n.h>
#include <stdlib.h>

#include "app/widgetstyle.h"
#include "doc/document.h"
#include "draw/view.h"

#define PICTURE_WIDTH 208
#define PICTURE_HEIGHT 150
#define STEPS 72
#define SHOWN_AT (G_PI / 3) /* a crank angle at which wings are seen to move */

struct _FwDemoList
{
  GtkWidget parent_instance;

  GtkWidget *cards;
  GCancellable *cancel;
  FwTheme theme;
  int count;
};

enum { CHOSEN, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (FwDemoList, fw_demo_list, GTK_TYPE_WIDGET)

/* ---- Pictures, drawn beside the main loop ---- */

typedef struct
{
  char *path;
  FwTheme theme;
  int scale;      /* of the screen */
  char *title;    /* found */
} Job;

static void
job_free (gpointer data)
{
  Job *job = data;
  g_free (job->path);
  g_free (job->title);
  g_free (job);
}

static cairo_surface_t *
draw_demo (const Job *job, const FwMechanism *mech)
{
  double size = job->scale;
  FwBox page = { 0, 0, PICTURE_WIDTH * size, PICTURE_HEIGHT * size };
  FwPose *pose = fw_pose_new (mech), *scratch = fw_pose_new (mech);
  FwTurn *turn = fw_turn_new (mech, STEPS);
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, (int) page.width, (int) page.height);

  if (pose != NULL && scratch != NULL && turn != NULL)
    {
      FwStyle style = fw_style (job->theme, size * 0.8);
      FwScene scene = { .mechanism = mech, .pose = pose, .turn = turn, .scratch = scratch };
      cairo_t *cr = cairo_create (surface);
      fw_pose_solve (pose, mech, SHOWN_AT);
      fw_turn_solve (turn, mech);
      FwCamera camera = fw_camera_fit (FW_VIEW_THREE_QUARTER, fw_view_extent (&scene, FW_VIEW_THREE_QUARTER), page, 6 * size);
      fw_set_colour (cr, style.ground);
      cairo_paint (cr);
      fw_draw_view (cr, &scene, &camera, &style, page, 0, NULL);
      cairo_destroy (cr);
    }
  free (pose);
  free (scratch);
  free (turn);
  return surface;
}

static void
job_run (GTask *task, gpointer source, gpointer data, GCancellable *cancel)
{
  Job *job = data;
  g_autoptr (GError) error = NULL;
  FwMechanism *mech = NULL;
  FwDocument *doc = fw_document_load (job->path, &error);

  if (doc == NULL)
    g_task_return_error (task, g_steal_pointer (&error));
  else if (fw_mechanism_build (fw_document_design (doc), &mech, NULL) != FW_OK)
    g_task_return_new_error (task, FW_DOC_ERROR, FW_DOC_ERROR_INVALID, _("This demo cannot be drawn."));
  else
    {
      job->title = g_strdup (fw_document_title (doc));
      g_task_return_pointer (task, draw_demo (job, mech), (GDestroyNotify) cairo_surface_destroy);
    }
  fw_mechanism_free (mech);
  fw_document_free (doc);
}

/* ---- Cards ---- */

static void
paint_picture (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  cairo_surface_t *surface = g_object_get_data (G_OBJECT (area), "picture");
  if (surface == NULL)
    return;
  double scale = (double) width / cairo_image_surface_get_width (surface);
  cairo_scale (cr, scale, scale);
  cairo_set_source_surface (cr, surface, 0, 0);
  cairo_paint (cr);
}

typedef struct
{
  GtkWidget *picture, *name, *child;
} Card;

static void
on_drawn (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autofree Card *card = data;
  g_autoptr (GError) error = NULL;
  const Job *job = g_task_get_task_data (G_TASK (result));
  cairo_surface_t *surface = g_task_propagate_pointer (G_TASK (result), &error);

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return; /* the list is gone */
  if (surface == NULL)
    {
      gtk_label_set_text (GTK_LABEL (card->name), error->message);
      gtk_widget_set_sensitive (card->child, FALSE);
      return;
    }
  if (job->title != NULL && *job->title != '\0')
    {
      gtk_label_set_text (GTK_LABEL (card->name), job->title);
      fw_widget_describe (card->child, job->title, NULL);
    }
  g_object_set_data_full (G_OBJECT (card->picture), "picture", surface, (GDestroyNotify) cairo_surface_destroy);
  gtk_widget_queue_draw (card->picture);
}

static void
list_draw_card (FwDemoList *self, const Card *card, const char *path)
{
  Job *job = g_new0 (Job, 1);
  *job = (Job) { .path = g_strdup (path), .theme = self->theme, .scale = gtk_widget_get_scale_factor (card->picture) };
  g_autoptr (GTask) task = g_task_new (NULL, self->cancel, on_drawn, g_memdup2 (card, sizeof *card));
  g_task_set_task_data (task, job, job_free);
  g_task_run_in_thread (task, job_run);
}

static void
list_add_card (FwDemoList *self, const char *folder, const char *file)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  g_autofree char *path = g_build_filename (folder, file, NULL);
  g_autofree char *bare = g_strndup (file, strlen (file) - strlen (".flap"));
  Card card = { gtk_drawing_area_new (), gtk_label_new (bare), gtk_flow_box_child_new () };

  gtk_drawing_area_set_content_width (GTK_DRAWING_AREA (card.picture), PICTURE_WIDTH);
  gtk_drawing_area_set_content_height (GTK_DRAWING_AREA (card.picture), PICTURE_HEIGHT);
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (card.picture), paint_picture, NULL, NULL);
  gtk_widget_set_halign (card.picture, GTK_ALIGN_CENTER);
  gtk_label_set_wrap (GTK_LABEL (card.name), TRUE);
  gtk_label_set_justify (GTK_LABEL (card.name), GTK_JUSTIFY_CENTER);
  gtk_label_set_max_width_chars (GTK_LABEL (card.name), 24);
  gtk_box_append (GTK_BOX (box), card.picture);
  gtk_box_append (GTK_BOX (box), card.name);
  gtk_widget_add_css_class (box, "fw-card");
  gtk_flow_box_child_set_child (GTK_FLOW_BOX_CHILD (card.child), box);
  g_object_set_data_full (G_OBJECT (card.child), "path", g_strdup (path), g_free);
  fw_widget_describe (card.child, bare, NULL);
  gtk_flow_box_append (GTK_FLOW_BOX (self->cards), card.child);
  self->count++;
  list_draw_card (self, &card, path);
}

static int
by_name (gconstpointer a, gconstpointer b)
{
  return g_strcmp0 (*(char *const *) a, *(char *const *) b);
}

static void
list_fill (FwDemoList *self, const char *folder)
{
  g_autoptr (GPtrArray) files = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GDir) dir = *folder != '\0' ? g_dir_open (folder, 0, NULL) : NULL;
  const char *file;

  while (dir != NULL && (file = g_dir_read_name (dir)) != NULL)
    if (g_str_has_suffix (file, ".flap"))
      g_ptr_array_add (files, g_strdup (file));
  g_ptr_array_sort (files, by_name);
  for (guint i = 0; i < files->len; i++)
    list_add_card (self, folder, g_ptr_array_index (files, i));
}

static void
on_activated (FwDemoList *self, GtkFlowBoxChild *child)
{
  g_signal_emit (self, signals[CHOSEN], 0, g_object_get_data (G_OBJECT (child), "path"));
}

int
fw_demo_list_count (FwDemoList *self)
{
  return self->count;
}

/* ---- Object ---- */

static void
demo_list_dispose (GObject *object)
{
  FwDemoList *self = FW_DEMO_LIST (object);
  g_cancellable_cancel (self->cancel);
  fw_widget_drop_children (GTK_WIDGET (object));
  G_OBJECT_CLASS (fw_demo_list_parent_class)->dispose (object);
}

static void
demo_list_finalize (GObject *object)
{
  g_object_unref (FW_DEMO_LIST (object)->cancel);
  G_OBJECT_CLASS (fw_demo_list_parent_class)->finalize (object);
}

/* A flow box of GTK 4.8 that has not been laid out yet looks for the card above or below for ever. */
static gboolean
demo_list_focus (GtkWidget *widget, GtkDirectionType direction)
{
  FwDemoList *self = FW_DEMO_LIST (widget);
  if ((direction == GTK_DIR_UP || direction == GTK_DIR_DOWN) && gtk_widget_get_width (self->cards) == 0)
    return FALSE;
  return GTK_WIDGET_CLASS (fw_demo_list_parent_class)->focus (widget, direction);
}

static void
fw_demo_list_class_init (FwDemoListClass *class)
{
  G_OBJECT_CLASS (class)->dispose = demo_list_dispose;
  GTK_WIDGET_CLASS (class)->focus = demo_list_focus;
  G_OBJECT_CLASS (class)->finalize = demo_list_finalize;
  signals[CHOSEN] = g_signal_new ("chosen", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                  G_TYPE_NONE, 1, G_TYPE_STRING);
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BIN_LAYOUT);
}

/* A flow box of GTK 4.8 that has no size yet divides by its 0 cards a line when a key moves among them. */
static gboolean
on_early_key (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, gpointer cards)
{
  return gtk_widget_get_width (cards) > 0 ? GDK_EVENT_PROPAGATE : GDK_EVENT_STOP;
}

static void
fw_demo_list_init (FwDemoList *self)
{
  GtkWidget *scroll = gtk_scrolled_window_new ();
  GtkEventController *keys = gtk_event_controller_key_new ();

  self->cancel = g_cancellable_new ();
  self->cards = gtk_flow_box_new ();
  gtk_flow_box_set_activate_on_single_click (GTK_FLOW_BOX (self->cards), TRUE);
  gtk_flow_box_set_min_children_per_line (GTK_FLOW_BOX (self->cards), 2);
  gtk_flow_box_set_max_children_per_line (GTK_FLOW_BOX (self->cards), 3);
  gtk_flow_box_set_homogeneous (GTK_FLOW_BOX (self->cards), TRUE);
  gtk_widget_set_valign (self->cards, GTK_ALIGN_START);
  gtk_widget_add_css_class (self->cards, "fw-cards");
  fw_widget_describe (self->cards, _("Demos"), NULL);
  g_signal_connect_swapped (self->cards, "child-activated", G_CALLBACK (on_activated), self);
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_early_key), self->cards);
  gtk_widget_add_controller (self->cards, keys);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroll), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  fw_widget_describe (scroll, _("Demos"), NULL);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroll), self->cards);
  gtk_widget_set_vexpand (scroll, TRUE);
  gtk_widget_set_parent (scroll, GTK_WIDGET (self));
}

GtkWidget *
fw_demo_list_new (const char *folder, FwTheme theme)
{
  FwDemoList *self = g_object_new (FW_TYPE_DEMO_LIST, NULL);
  self->theme = theme;
  list_fill (self, folder);
  return GTK_WIDGET (self);
}
