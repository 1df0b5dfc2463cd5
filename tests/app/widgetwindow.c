/* A window with the widgets around one design, for tests that drive it with mouse and keys.
 *
 *   widgetwindow FILE [dark] [inch]
 *
 * Each change is told on standard output, a line each: "crank DEGREES MICROSECONDS", "value PATH NUMBER",
 * "undo LABEL", "picked NAME", "trouble COUNT PICKED", "playing 0|1", "message TEXT", "size X Y W H NAME".
 * Standard input takes commands: "undo", "redo", "value PATH", "pick-trouble N", "crank DEGREES",
 * "places", "sync" (answers "synced" when all input so far has been dealt with), "quit". */
#include <gio/gunixinputstream.h>
#include <gtk/gtk.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "app/canvas.h"
#include "app/inspector.h"
#include "app/look.h"
#include "app/player.h"
#include "app/stripview.h"
#include "app/troublelist.h"

typedef struct
{
  FwSession *session;
  GtkWidget *window, *front, *side, *strip, *player, *inspector, *trouble;
  GDataInputStream *input;
  GMainLoop *loop;
  int frames; /* until "synced" */
} Stage;

static void
tell (const char *format, ...)
{
  va_list args;

  va_start (args, format);
  vprintf (format, args);
  va_end (args);
  putchar ('\n');
  fflush (stdout);
}

static void
tell_pose (Stage *stage)
{
  tell ("crank %.4f %" G_GINT64_FORMAT, fw_session_crank (stage->session) * 180 / G_PI, g_get_monotonic_time ());
}

static void
tell_value (Stage *stage, const char *path)
{
  const FwDesign *design = fw_document_design (fw_session_document (stage->session));
  FwParam param;

  if (fw_param_from_path (design, path, &param))
    tell ("value %s %.6f", path, fw_param_get (design, param));
  else
    tell ("value %s none", path);
}

static void
tell_design (Stage *stage)
{
  const char *label = fw_document_undo_label (fw_session_document (stage->session));

  tell ("undo %s", label != NULL ? label : "-");
  tell ("trouble %d %d", fw_session_scene (stage->session)->troubles->n,
        fw_session_picked_trouble (stage->session));
}

static void
tell_picked (Stage *stage)
{
  const FwPart *part = fw_session_picked (stage->session);

  tell ("picked %s", part ? fw_part_name (fw_session_scene (stage->session)->mechanism, *part) : "-");
  tell ("trouble %d %d", fw_session_scene (stage->session)->troubles->n,
        fw_session_picked_trouble (stage->session));
}

static void
tell_message (Stage *stage, const char *text)
{
  tell ("message %s", text);
}

static void
tell_playing (Stage *stage)
{
  tell ("playing %d", fw_player_playing (FW_PLAYER (stage->player)));
}

static void
tell_place (Stage *stage, GtkWidget *widget, const char *name)
{
  graphene_rect_t r;

  if (gtk_widget_compute_bounds (widget, stage->window, &r))
    tell ("size %.0f %.0f %.0f %.0f %s", r.origin.x, r.origin.y, r.size.width, r.size.height, name);
}

/* Where handles stand, as a test that aims the mouse at them needs it. */
static void
tell_handles (Stage *stage, GtkWidget *canvas, const char *name)
{
  FwHandle handles[64];
  const FwScene *scene = fw_session_scene (stage->session);
  int width = gtk_widget_get_width (canvas), height = gtk_widget_get_height (canvas);
  FwView view = fw_canvas_view (FW_CANVAS (canvas));
  FwCamera camera = fw_camera_fit (view, fw_view_extent (scene, view), (FwBox) { 0, 0, width, height }, 24);
  graphene_rect_t r;

  if (!gtk_widget_compute_bounds (canvas, stage->window, &r))
    return;
  int n = fw_view_handles (scene, &camera, handles, 64);
  for (int i = 0; i < n && i < 64; i++)
    {
      char *label = fw_handle_label (scene->mechanism, &handles[i]);
      tell ("handle %s %.0f %.0f %s", name, r.origin.x + handles[i].at.x, r.origin.y + handles[i].at.y, label);
      g_free (label);
    }
}

static void
tell_places (Stage *stage)
{
  tell_place (stage, stage->front, "front");
  tell_place (stage, stage->side, "side");
  tell_place (stage, stage->strip, "strip");
  tell_place (stage, stage->player, "player");
  tell_place (stage, stage->inspector, "inspector");
  tell_place (stage, stage->trouble, "trouble");
  tell_handles (stage, stage->front, "front");
  tell_handles (stage, stage->side, "side");
  tell ("end");
}

/* Motion is dealt with once a frame, so that the answer waits for frames. */
static gboolean
on_sync_tick (GtkWidget *window, GdkFrameClock *clock, gpointer data)
{
  Stage *stage = data;

  if (--stage->frames > 0)
    return G_SOURCE_CONTINUE;
  tell ("synced");
  return G_SOURCE_REMOVE;
}

static void
sync_begin (Stage *stage)
{
  gdk_display_sync (gtk_widget_get_display (stage->window));
  stage->frames = 3;
  gtk_widget_add_tick_callback (stage->window, on_sync_tick, stage, NULL);
}

static void
obey (Stage *stage, const char *line)
{
  if (g_str_equal (line, "undo"))
    fw_session_undo (stage->session);
  else if (g_str_equal (line, "redo"))
    fw_session_redo (stage->session);
  else if (g_str_has_prefix (line, "value "))
    tell_value (stage, line + 6);
  else if (g_str_has_prefix (line, "pick-trouble "))
    fw_session_pick_trouble (stage->session, atoi (line + 13));
  else if (g_str_has_prefix (line, "crank "))
    fw_session_set_crank (stage->session, g_ascii_strtod (line + 6, NULL) * G_PI / 180);
  else if (g_str_equal (line, "places"))
    tell_places (stage);
  else if (g_str_equal (line, "sync"))
    sync_begin (stage);
  else if (g_str_equal (line, "quit"))
    g_main_loop_quit (stage->loop);
}

static void
on_line (GObject *source, GAsyncResult *result, gpointer data)
{
  Stage *stage = data;
  char *line = g_data_input_stream_read_line_finish (stage->input, result, NULL, NULL);

  if (line == NULL)
    {
      g_main_loop_quit (stage->loop);
      return;
    }
  obey (stage, line);
  g_free (line);
  g_data_input_stream_read_line_async (stage->input, G_PRIORITY_DEFAULT, NULL, on_line, stage);
}

static void
build (Stage *stage)
{
  GtkWidget *views = gtk_paned_new (GTK_ORIENTATION_HORIZONTAL);
  GtkWidget *left = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *right = gtk_paned_new (GTK_ORIENTATION_VERTICAL);
  GtkWidget *all = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);

  stage->front = fw_canvas_new (stage->session, FW_VIEW_FRONT);
  stage->side = fw_canvas_new (stage->session, FW_VIEW_SIDE);
  stage->strip = fw_strip_view_new (stage->session);
  stage->player = fw_player_new (stage->session);
  stage->inspector = fw_inspector_new (stage->session);
  stage->trouble = fw_trouble_view_new (stage->session);
  gtk_paned_set_start_child (GTK_PANED (views), stage->front);
  gtk_paned_set_end_child (GTK_PANED (views), stage->side);
  gtk_paned_set_position (GTK_PANED (views), 640);
  fw_strip_view_add_control (FW_STRIP_VIEW (stage->strip), stage->player);
  gtk_box_append (GTK_BOX (left), views);
  gtk_box_append (GTK_BOX (left), stage->strip);
  gtk_widget_set_vexpand (stage->strip, FALSE);
  gtk_paned_set_start_child (GTK_PANED (right), stage->inspector);
  gtk_paned_set_end_child (GTK_PANED (right), stage->trouble);
  gtk_paned_set_position (GTK_PANED (right), 560);
  gtk_widget_set_size_request (right, 340, -1);
  gtk_box_append (GTK_BOX (all), left);
  gtk_box_append (GTK_BOX (all), right);
  stage->window = gtk_window_new ();
  gtk_window_set_decorated (GTK_WINDOW (stage->window), FALSE);
  gtk_window_set_default_size (GTK_WINDOW (stage->window), 1600, 1000);
  gtk_window_set_title (GTK_WINDOW (stage->window), "widgets");
  gtk_window_set_child (GTK_WINDOW (stage->window), all);
}

static void
listen (Stage *stage)
{
  GInputStream *raw = g_unix_input_stream_new (STDIN_FILENO, FALSE);

  g_signal_connect_swapped (stage->session, "pose-changed", G_CALLBACK (tell_pose), stage);
  g_signal_connect_swapped (stage->session, "design-changed", G_CALLBACK (tell_design), stage);
  g_signal_connect_swapped (stage->session, "picked-changed", G_CALLBACK (tell_picked), stage);
  g_signal_connect_swapped (stage->session, "message", G_CALLBACK (tell_message), stage);
  g_signal_connect_swapped (stage->player, "notify::playing", G_CALLBACK (tell_playing), stage);
  stage->input = g_data_input_stream_new (raw);
  g_object_unref (raw);
  g_data_input_stream_read_line_async (stage->input, G_PRIORITY_DEFAULT, NULL, on_line, stage);
}

int
main (int argc, char **argv)
{
  Stage stage = { 0 };
  GError *error = NULL;

  gtk_init ();
  FwDocument *doc = argc > 1 ? fw_document_load (argv[1], &error) : NULL;
  if (doc == NULL)
    {
      fprintf (stderr, "widgetwindow: %s\n", error ? error->message : "a design file is needed");
      return 2;
    }
  stage.session = fw_session_new ();
  for (int i = 2; i < argc; i++)
    if (g_str_equal (argv[i], "dark"))
      {
        fw_session_set_look (stage.session, FW_THEME_DARK, 1);
        g_object_set (gtk_settings_get_default (), "gtk-application-prefer-dark-theme", TRUE, NULL);
      }
    else if (g_str_equal (argv[i], "inch"))
      fw_session_set_lengths (stage.session, FW_LENGTHS_INCH);
  build (&stage);
  listen (&stage);
  fw_session_set_document (stage.session, doc, argv[1]);
  stage.loop = g_main_loop_new (NULL, FALSE);
  g_signal_connect_swapped (stage.window, "destroy", G_CALLBACK (g_main_loop_quit), stage.loop);
  gtk_window_present (GTK_WINDOW (stage.window));
  tell ("ready");
  g_main_loop_run (stage.loop);
  gtk_window_destroy (GTK_WINDOW (stage.window));
  g_object_unref (stage.session);
  return 0;
}
