#include "app/explain.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/controls.h"
#include "app/guidereader.h"
#include "app/look.h"
#include "app/widgetstyle.h"
#include "draw/explainpicture.h"

#define PICTURE_WIDTH 288
#define PICTURE_HEIGHT 180
#define WORDS_WIDE 44
#define MOST_SIZE 1.6
#define ROOM 60 /* px of the window that it leaves free, above and below together */

static const char button_key[] = "fw-explain-button";

/* Of one button. */
typedef struct
{
  FwSession *session; /* owned */
  const FwExplain *explain;
  GtkWidget *button;
  GtkWidget *popover; /* while it is open */
  GtkWidget *leaving; /* closed, and away when the source `leave` comes */
  guint leave;
  GtkWidget *back;    /* weak: what had the keyboard */
} Spot;

static void
spot_set_back (Spot *spot, GtkWidget *back)
{
  g_set_weak_pointer (&spot->back, back);
}

static void
spot_free (gpointer data)
{
  Spot *spot = data;
  spot_set_back (spot, NULL);
  g_object_unref (spot->session);
  g_free (spot);
}

/* ---- What it shows ---- */

static void
on_paint (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  const Spot *spot = data;
  FwStyle style = fw_session_style (spot->session, 1);
  fw_draw_explain (cr, spot->explain->id, &style, (FwBox){ 0, 0, width, height });
}

static GtkWidget *
words_label (const char *words, const char *style)
{
  GtkWidget *label = gtk_label_new (words);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_max_width_chars (GTK_LABEL (label), WORDS_WIDE);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  if (style != NULL)
    gtk_widget_add_css_class (label, style);
  return label;
}

static void
add_fact (GtkWidget *box, const char *name, const char *words)
{
  if (words == NULL)
    return;
  g_autofree char *heavy = g_markup_escape_text (name, -1), *plain = g_markup_escape_text (words, -1);
  /* Translators: what is told of a quantity, and the words. Keep the mark-up. */
  g_autofree char *line = g_strdup_printf (_ ("<b>%s:</b> %s"), heavy, plain);
  GtkWidget *label = words_label (NULL, "explain-fact");
  gtk_label_set_markup (GTK_LABEL (label), line);
  gtk_box_append (GTK_BOX (box), label);
}

static void
on_more (Spot *spot)
{
  const FwExplain *explain = spot->explain;
  GtkWindow *window = GTK_WINDOW (gtk_widget_get_root (spot->button));
  fw_popdown (spot->popover);
  fw_guide_reader_show (window, explain->more);
}

static GtkWidget *
spot_picture (Spot *spot)
{
  GtkWidget *picture = g_object_new (GTK_TYPE_DRAWING_AREA, "accessible-role", GTK_ACCESSIBLE_ROLE_IMG, NULL);
  /* Translators: %s is a quantity, such as "Push angle" */
  g_autofree char *name = g_strdup_printf (_ ("Drawing: %s"), fw_explain_tr (spot->explain->title));
  double size = fmin (fw_session_text (spot->session), MOST_SIZE); /* its words as large as the desktop's */
  gtk_drawing_area_set_content_width (GTK_DRAWING_AREA (picture), (int) (PICTURE_WIDTH * size));
  gtk_drawing_area_set_content_height (GTK_DRAWING_AREA (picture), (int) (PICTURE_HEIGHT * size));
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (picture), on_paint, spot, NULL);
  gtk_widget_add_css_class (picture, "explain-picture");
  fw_widget_describe (picture, name, NULL);
  return picture;
}

static GtkWidget *
spot_content (Spot *spot)
{
  const FwExplain *e = spot->explain;
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6), *more = gtk_button_new_with_label (_ ("More in the guide"));
  const char *caution = fw_explain_caution_words (e->caution);

  gtk_widget_add_css_class (box, "explain");
  gtk_box_append (GTK_BOX (box), words_label (fw_explain_tr (e->title), "heading"));
  gtk_box_append (GTK_BOX (box), spot_picture (spot));
  gtk_box_append (GTK_BOX (box), words_label (fw_explain_tr (e->text), NULL));
  add_fact (box, _ ("Unit"), fw_explain_unit_words (e, fw_session_lengths (spot->session)));
  add_fact (box, _ ("Sign"), fw_explain_tr (e->positive));
  add_fact (box, _ ("Usually good"), fw_explain_tr (e->usual));
  add_fact (box, _ ("What helps"), fw_explain_tr (e->mend));
  if (caution != NULL)
    gtk_box_append (GTK_BOX (box), words_label (caution, "fw-caution"));
  gtk_widget_add_css_class (more, "flat");
  gtk_widget_set_halign (more, GTK_ALIGN_START);
  g_signal_connect_swapped (more, "clicked", G_CALLBACK (on_more), spot);
  gtk_box_append (GTK_BOX (box), more);
  return box;
}

/* With large words it may be higher than the window. */
static GtkWidget *
spot_scroller (Spot *spot, int window)
{
  GtkWidget *scroller = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_propagate_natural_height (GTK_SCROLLED_WINDOW (scroller), TRUE);
  gtk_scrolled_window_set_propagate_natural_width (GTK_SCROLLED_WINDOW (scroller), TRUE);
  gtk_scrolled_window_set_max_content_height (GTK_SCROLLED_WINDOW (scroller), MAX (window - ROOM, PICTURE_HEIGHT * 2));
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), spot_content (spot));
  return scroller;
}

/* ---- Opening and closing ---- */

static void
spot_drop (Spot *spot, GtkWidget **popover)
{
  GtkWidget *gone = g_steal_pointer (popover);
  if (gone == NULL)
    return;
  g_signal_handlers_disconnect_by_data (gone, spot);
  gtk_widget_unparent (gone);
}

static gboolean
on_gone (gpointer data)
{
  Spot *spot = data;
  spot->leave = 0;
  spot_drop (spot, &spot->leaving);
  return G_SOURCE_REMOVE;
}

static void
on_closed (Spot *spot)
{
  if (spot->popover == NULL)
    return;
  /* Away when nothing waits for it any more: a press on its button comes after it closes. */
  spot_drop (spot, &spot->leaving);
  spot->leaving = g_steal_pointer (&spot->popover);
  if (spot->leave == 0)
    spot->leave = g_idle_add_full (G_PRIORITY_LOW, on_gone, spot, NULL);
  if (spot->back != NULL && gtk_widget_get_mapped (spot->back))
    gtk_widget_grab_focus (spot->back);
  spot_set_back (spot, NULL);
}

static void
spot_open (Spot *spot)
{
  if (spot->popover != NULL || spot->explain == NULL)
    return;
  GtkRoot *root = gtk_widget_get_root (spot->button);
  g_autofree char *name = g_strconcat (fw_explain_tr (spot->explain->title), ". ", fw_explain_tr (spot->explain->text), NULL);

  spot_set_back (spot, root != NULL ? gtk_root_get_focus (root) : NULL);
  spot->popover = gtk_popover_new ();
  gtk_popover_set_child (GTK_POPOVER (spot->popover), spot_scroller (spot, root != NULL ? gtk_widget_get_height (GTK_WIDGET (root)) : 0));
  gtk_popover_set_position (GTK_POPOVER (spot->popover), GTK_POS_LEFT);
  fw_widget_describe (spot->popover, name, NULL);
  gtk_widget_set_parent (spot->popover, spot->button);
  g_signal_connect_swapped (spot->popover, "closed", G_CALLBACK (on_closed), spot);
  gtk_popover_popup (GTK_POPOVER (spot->popover));
}

/* The row goes away under a popover that is open, or was just closed. */
static void
on_button_destroyed (Spot *spot)
{
  g_clear_handle_id (&spot->leave, g_source_remove);
  spot_drop (spot, &spot->leaving);
  spot_drop (spot, &spot->popover);
}

/* ---- The button ---- */

static Spot *
spot_of (GtkWidget *button)
{
  return g_object_get_data (G_OBJECT (button), "fw-spot");
}

void
fw_explain_button_set (GtkWidget *button, const FwExplain *explain)
{
  Spot *spot = spot_of (button);
  if (spot->explain == explain)
    return;
  spot->explain = explain;
  gtk_widget_set_visible (button, explain != NULL);
  if (explain == NULL)
    return;
  /* Translators: of a small button; %s is a quantity, such as "Push angle" */
  g_autofree char *name = g_strdup_printf (_ ("What it means: %s"), fw_explain_tr (explain->title));
  gtk_widget_set_tooltip_text (button, _ ("What this means (F1)"));
  fw_widget_describe (button, name, fw_explain_tr (explain->text));
}

GtkWidget *
fw_explain_button_new (FwSession *session, GtkWidget *owner, const FwExplain *explain, gboolean in_row)
{
  /* Translators: on a small round button that tells what a quantity means */
  GtkWidget *button = gtk_button_new_with_label (C_ ("button", "?"));
  Spot *spot = g_new0 (Spot, 1);

  spot->session = g_object_ref (session);
  spot->button = button;
  g_object_set_data_full (G_OBJECT (button), "fw-spot", spot, spot_free);
  gtk_widget_add_css_class (button, "explain");
  gtk_widget_set_valign (button, GTK_ALIGN_CENTER);
  /* A height of its own, of nothing: it has no baseline then. With two baselines a row of GTK 4.8 is a pixel higher than the
   * least height that it told, and the toolkit complains where there is only just room. */
  gtk_widget_set_size_request (button, -1, 0);
  gtk_widget_set_focusable (button, !in_row); /* in a row F1 has it, and Tab goes from number to number */
  gtk_widget_set_focus_on_click (button, FALSE);
  g_signal_connect_swapped (button, "clicked", G_CALLBACK (spot_open), spot);
  g_signal_connect_swapped (button, "destroy", G_CALLBACK (on_button_destroyed), spot);
  if (in_row)
    gtk_widget_add_css_class (owner, "explained");
  g_object_set_data (G_OBJECT (owner), button_key, button);
  fw_explain_button_set (button, explain);
  return button;
}

GtkWidget *
fw_explain_heading (FwSession *session, GtkWidget *label, const FwExplain *explain)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  gtk_box_append (GTK_BOX (row), label);
  gtk_box_append (GTK_BOX (row), fw_explain_button_new (session, row, explain, FALSE));
  return row;
}

gboolean
fw_explain_focus (GtkWindow *window)
{
  GtkWidget *at = gtk_window_get_focus (window);
  for (; at != NULL; at = gtk_widget_get_parent (at))
    {
      GtkWidget *button = g_object_get_data (G_OBJECT (at), button_key);
      if (button != NULL && spot_of (button)->explain != NULL)
        {
          spot_open (spot_of (button));
          return TRUE;
        }
    }
  return FALSE;
}

static gboolean
on_key (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, gpointer data)
{
  GtkRoot *root = gtk_widget_get_root (gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (controller)));
  return keyval == GDK_KEY_F1 && (state & gtk_accelerator_get_default_mod_mask ()) == 0 && GTK_IS_WINDOW (root)
         && fw_explain_focus (GTK_WINDOW (root));
}

void
fw_explain_take_key (GtkWidget *popover)
{
  GtkEventController *keys = gtk_event_controller_key_new ();
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_key), NULL);
  gtk_widget_add_controller (popover, keys);
}
