#include "app/help.h"

#include <glib/gi18n.h>

#include "app/application.h"
#include "app/ask.h"
#include "app/shortcuts.h"
#include "app/widgetstyle.h"

#define KEY_COLUMNS 2

static GtkWidget *
words (const char *text, const char *style)
{
  GtkWidget *label = gtk_label_new (text);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_max_width_chars (GTK_LABEL (label), 64);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_add_css_class (label, style);
  return label;
}

static GtkWindow *
help_window (GtkWindow *parent, const char *title, GtkWidget *content, int width, int height)
{
  GtkWindow *window = fw_dialog_new (parent, title);
  GtkWidget *scroll = gtk_scrolled_window_new ();

  gtk_window_set_modal (window, FALSE);
  gtk_widget_add_css_class (content, "fw-page");
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroll), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_propagate_natural_width (GTK_SCROLLED_WINDOW (scroll), TRUE);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroll), content);
  fw_widget_describe (scroll, title, NULL);
  gtk_window_set_child (window, scroll);
  gtk_window_set_default_size (window, width, MIN (height, gtk_widget_get_height (GTK_WIDGET (parent))));
  gtk_window_present (window);
  return window;
}

/* ---- Help and cautions ---- */

typedef struct
{
  const char *style, *text;
} Paragraph;

static const Paragraph page[] = {
  { "fw-heading", N_ ("Three things to try") },
  { "fw-words", N_ ("1. Drag a slider at the right. The whole turn is solved at once; the bar under the slider shows "
                    "for which values the crank goes round: full where it runs free, hatched where there is trouble.") },
  { "fw-words", N_ ("2. Scrub along the turn strip below the views, or press a line in the list of trouble: the "
                    "crank goes to where it is worst and the part lights up. A remedy was tried before it is offered; "
                    "one press applies it, and Undo takes it back.") },
  { "fw-words", N_ ("3. Export the strip: a plate of frames of one turn, for the build log.") },
  { "fw-heading", N_ ("In the views") },
  { "fw-words", N_ ("Drag a grip to move a pin, a rod end, a hinge, a stop or the post's top; the numbers follow. "
                    "Turn the wheel to zoom, drag empty paper to pan, Ctrl+0 fits the whole turn again. Lengths may "
                    "be typed as 19, 3/4 in or 2.5 cm, whatever unit is shown.") },
  { "fw-heading", N_ ("From drawing to thing") },
  { "fw-words", N_ ("Made by hand (Ctrl+T): how often it still goes round when every piece is a little off, and which piece "
                    "matters. Another size (Ctrl+K): what the big one weighs and asks, and what stops working first. The "
                    "real thing (Ctrl+R): measure the built one, by hand or off a photograph, and learn what was built.") },
  { "fw-heading", N_ ("Where it can hurt") },
  { "fw-caution", N_ ("The program knows geometry, weights, forces and the strength of ideal parts; not your glue, not "
                      "wear, not a cracked tube. A drawing that goes round is no proof that the thing is safe: try it "
                      "by hand first. Where the local codes or good practice and this program differ, they are right.") },
  { "fw-caution", N_ ("Cranks, rods and panels pinch fingers, hair and sleeves, at a slow turn too. Guard what can be "
                      "reached, and turn it by hand through a whole turn before any motor drives it.") },
  { "fw-caution", N_ ("What hangs or stands overhead needs a fixing and a second, independent one for many times the "
                      "weight that moves; what stands free must not tip, with wings up and down.") },
  { "fw-caution", N_ ("Motors and mains wiring, and work in public places, follow the local codes and belong to "
                      "licensed people. Sawing, drilling and soldering: eyes, hands and breath protected.") },
};

void
fw_help_show (GtkWindow *parent)
{
  GtkWidget *content = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  for (gsize i = 0; i < G_N_ELEMENTS (page); i++)
    {
      GtkWidget *label = words (_(page[i].text), page[i].style);
      if (i > 0 && g_str_equal (page[i].style, "fw-heading"))
        gtk_widget_set_margin_top (label, 12);
      gtk_box_append (GTK_BOX (content), label);
    }
  help_window (parent, _("Help and cautions"), content, 600, 760);
}

/* ---- Keys ---- */

static GtkWidget *
keys_of (const FwShortcut *shortcut)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  for (int i = 0; i < 2 && shortcut->accels[i] != NULL; i++)
    {
      guint key;
      GdkModifierType mods;
      if (!gtk_accelerator_parse (shortcut->accels[i], &key, &mods))
        continue;
      g_autofree char *text = gtk_accelerator_get_label (key, mods);
      GtkWidget *label = gtk_label_new (text);
      gtk_widget_add_css_class (label, "fw-keys");
      gtk_box_append (GTK_BOX (row), label);
    }
  return row;
}

static GtkWidget *
keys_section (FwKeySection section)
{
  GtkGrid *grid = GTK_GRID (gtk_grid_new ());
  GtkWidget *title = words (fw_key_section_label (section), "fw-section");
  int n, row = 1;
  const FwShortcut *list = fw_shortcuts (&n);

  gtk_grid_set_row_spacing (grid, 6);
  gtk_grid_set_column_spacing (grid, 12);
  gtk_grid_attach (grid, title, 0, 0, 2, 1);
  for (int i = 0; i < n; i++)
    if (list[i].section == section)
      {
        GtkWidget *what = words (_(list[i].label), "fw-words");
        gtk_label_set_max_width_chars (GTK_LABEL (what), 30);
        gtk_widget_set_hexpand (what, TRUE);
        gtk_grid_attach (grid, what, 0, row, 1, 1);
        gtk_grid_attach (grid, keys_of (&list[i]), 1, row, 1, 1);
        row++;
      }
  return GTK_WIDGET (grid);
}

void
fw_help_show_keys (GtkWindow *parent)
{
  static const FwKeySection columns[KEY_COLUMNS][4] = {
    { FW_KEYS_FILE, FW_KEYS_EDIT, FW_KEYS_SHOW, FW_N_KEY_SECTIONS },
    { FW_KEYS_CRANK, FW_KEYS_VIEW, FW_KEYS_HELP, FW_N_KEY_SECTIONS },
  };
  GtkWidget *content = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 24);

  for (int i = 0; i < KEY_COLUMNS; i++)
    {
      GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 24);
      for (int k = 0; columns[i][k] != FW_N_KEY_SECTIONS; k++)
        gtk_box_append (GTK_BOX (column), keys_section (columns[i][k]));
      gtk_box_append (GTK_BOX (content), column);
    }
  help_window (parent, _("Keys"), content, 880, 900);
}

/* ---- About ---- */

void
fw_help_show_about (GtkWindow *parent)
{
  gtk_show_about_dialog (parent, "program-name", _("Flapwright"), "version", FW_VERSION, "logo-icon-name", FW_APP_ID,
                         "comments", _("Designs crank-driven flapping animals: see them move, tune them, find where "
                                       "they bind."),
                         "license-type", GTK_LICENSE_MIT_X11, NULL);
}
