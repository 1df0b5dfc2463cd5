/* Numbers that may change: rows with their limits, and the list they are chosen from. */
#include "app/aimrows.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "app/aimedits.h"
#include "app/controls.h"
#include "app/explain.h"
#include "app/widgetstyle.h"

#define FOUND 40 /* numbers a list shows at most */

typedef struct
{
  FwSession *session; /* owned */
  int item;
  FwParam param;
  GtkWidget *entries[2], *fault;
  gboolean gone;
} Row;

static void
row_free (gpointer data)
{
  Row *row = data;
  g_object_unref (row->session);
  g_free (row);
}

static double
limit_of (Row *row, int which)
{
  const FwFree *item = &fw_session_wishes (row->session)->free[row->item];
  double given = which == 0 ? item->least : item->most, range[2];
  if (!isnan (given))
    return given;
  fw_param_range (fw_document_design (fw_session_document (row->session)), row->param, &range[0], &range[1]);
  return range[which];
}

static void
row_write (Row *row)
{
  for (int i = 0; i < 2; i++)
    {
      g_autofree char *text = fw_units_format (limit_of (row, i), fw_param_unit (row->param), fw_session_lengths (row->session), -1);
      gtk_editable_set_text (GTK_EDITABLE (row->entries[i]), text);
    }
}

static void
row_fault (Row *row, const char *words)
{
  gtk_label_set_text (GTK_LABEL (row->fault), words != NULL ? words : "");
  gtk_widget_set_visible (row->fault, words != NULL);
}

/* Limits that were typed; those that make no sense are told and not taken. */
static void
row_apply (Row *row)
{
  if (row->gone)
    return;
  const FwWishes *now = fw_session_wishes (row->session);
  g_autoptr (GError) error = NULL;
  double limits[2];
  gboolean same = TRUE;
  g_autofree char *path = fw_param_path (fw_document_design (fw_session_document (row->session)), row->param);
  /* The row may be on its way out, its place taken by another number. */
  if (row->item >= now->n_free || g_strcmp0 (now->free[row->item].number, path) != 0)
    return;
  for (int i = 0; i < 2 && error == NULL; i++)
    {
      const char *text = gtk_editable_get_text (GTK_EDITABLE (row->entries[i]));
      FwUnit unit = fw_param_unit (row->param);
      FwLengths lengths = fw_session_lengths (row->session);
      g_autofree char *shown = fw_units_format (limit_of (row, i), unit, lengths, -1);
      if (g_str_equal (shown, text))
        limits[i] = limit_of (row, i);
      else if (fw_units_parse (text, unit, lengths, &limits[i], &error))
        same = FALSE;
    }
  row_fault (row, error != NULL ? error->message : NULL);
  if (error != NULL || same)
    return;
  FwWishes *wishes = fw_wishes_copy (now);
  wishes->free[row->item].least = limits[0];
  wishes->free[row->item].most = limits[1];
  gboolean known = wishes->n_list == 0 || fw_session_check_wishes (row->session, wishes, &error);
  if (!known || limits[0] >= limits[1])
    {
      row_fault (row, error != NULL ? error->message : _ ("A lower limit below the upper one was expected."));
      fw_wishes_free (wishes);
      return;
    }
  g_autofree char *name = fw_param_label (fw_document_design (fw_session_document (row->session)), row->param);
  /* Translators: a step of undo; %s is the name of a number */
  g_autofree char *label = g_strdup_printf (_ ("Limits of %s"), name);
  fw_session_set_wishes (row->session, wishes, label);
}

static void
on_remove (Row *row)
{
  g_autoptr (FwSession) session = g_object_ref (row->session);
  fw_session_free_number (session, row->param, FALSE);
}

static GtkWidget *
row_entry (Row *row, int which, const char *label)
{
  GtkWidget *entry = fw_number_entry_new ();
  GtkEventController *focus = gtk_event_controller_focus_new ();
  g_autofree char *name = g_strdup_printf (which == 0 ? _ ("%s: least") : _ ("%s: most"), label);
  gtk_editable_set_width_chars (GTK_EDITABLE (entry), 8);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (entry), 9);
  gtk_widget_set_hexpand (entry, TRUE);
  fw_widget_describe (entry, name, NULL);
  g_signal_connect_swapped (entry, "activate", G_CALLBACK (row_apply), row);
  g_signal_connect_swapped (focus, "leave", G_CALLBACK (row_apply), row);
  gtk_widget_add_controller (entry, focus);
  return entry;
}

static char *
list_words (const FwFree *item, FwUnit unit, FwLengths lengths)
{
  GString *words = g_string_new (NULL);
  for (int i = 0; i < item->n_among; i++)
    {
      g_autofree char *one = fw_units_format (item->among[i], unit, lengths, -1);
      g_string_append_printf (words, "%s%s", i > 0 ? ", " : "", one);
    }
  return g_string_free (words, FALSE);
}

GtkWidget *
fw_aim_free_row_new (FwSession *session, int item)
{
  const FwDesign *design = fw_document_design (fw_session_document (session));
  const FwFree *it = &fw_session_wishes (session)->free[item];
  Row *row = g_new0 (Row, 1);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3), *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *limits = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6), *remove = gtk_button_new_from_icon_name ("list-remove-symbolic");
  gboolean known = fw_param_from_path (design, it->number, &row->param);
  g_autofree char *label = known ? fw_param_label (design, row->param) : g_strdup (it->number);
  g_autofree char *gone = g_strdup_printf (_ ("%s stays as it is"), label);
  GtkWidget *name = gtk_label_new (label);

  row->session = g_object_ref (session);
  row->item = item;
  row->fault = fw_note_label ("");
  gtk_widget_add_css_class (row->fault, "error");
  gtk_widget_set_visible (row->fault, FALSE);
  gtk_label_set_xalign (GTK_LABEL (name), 0);
  gtk_label_set_ellipsize (GTK_LABEL (name), PANGO_ELLIPSIZE_END);
  gtk_widget_set_hexpand (name, TRUE);
  gtk_widget_add_css_class (remove, "flat");
  gtk_widget_set_tooltip_text (remove, _ ("This number stays as it is"));
  fw_widget_describe (remove, gone, NULL);
  g_signal_connect_swapped (remove, "clicked", G_CALLBACK (on_remove), row);
  gtk_box_append (GTK_BOX (line), name);
  gtk_box_append (GTK_BOX (line), fw_explain_button_new (session, box, fw_explain_find ("free-number"), TRUE));
  gtk_box_append (GTK_BOX (line), remove);
  gtk_box_append (GTK_BOX (box), line);
  if (known && it->n_among == 0)
    {
      for (int i = 0; i < 2; i++)
        {
          row->entries[i] = row_entry (row, i, label);
          gtk_box_append (GTK_BOX (limits), gtk_label_new (i == 0 ? C_ ("limit", "from") : C_ ("limit", "to")));
          gtk_box_append (GTK_BOX (limits), row->entries[i]);
        }
      row_write (row);
    }
  else if (known)
    {
      g_autofree char *words = list_words (it, fw_param_unit (row->param), fw_session_lengths (session));
      g_autofree char *one_of = g_strdup_printf (_ ("one of %s"), words);
      gtk_box_append (GTK_BOX (limits), fw_note_label (one_of));
    }
  gtk_box_append (GTK_BOX (box), limits);
  gtk_box_append (GTK_BOX (box), row->fault);
  gtk_widget_add_css_class (box, "aim-row");
  g_object_set_data_full (G_OBJECT (box), "fw-row", row, row_free);
  return box;
}

void
fw_aim_free_row_let_go (GtkWidget *widget)
{
  ((Row *) g_object_get_data (G_OBJECT (widget), "fw-row"))->gone = TRUE;
}

/* ---- Choosing ---- */

typedef struct
{
  FwSession *session; /* owned */
  GtkWidget *popover, *search, *list, *note;
} Chooser;

static void
chooser_free (gpointer data)
{
  g_object_unref (((Chooser *) data)->session);
  g_free (data);
}

static void
on_number (GtkWidget *button, Chooser *chooser)
{
  FwParam param = *(const FwParam *) g_object_get_data (G_OBJECT (button), "fw-param");
  gtk_popover_popdown (GTK_POPOVER (chooser->popover));
  fw_session_free_number (chooser->session, param, TRUE);
}

static GtkWidget *
number_button (Chooser *chooser, const char *label, FwParam param)
{
  GtkWidget *button = gtk_button_new_with_label (label);
  gtk_widget_add_css_class (button, "flat");
  gtk_label_set_xalign (GTK_LABEL (gtk_button_get_child (GTK_BUTTON (button))), 0);
  g_object_set_data_full (G_OBJECT (button), "fw-param", g_memdup2 (&param, sizeof param), g_free);
  g_signal_connect (button, "clicked", G_CALLBACK (on_number), chooser);
  return button;
}

/* Numbers that shape the motion, are not free yet, and have what was typed in their names. */
static void
on_search (Chooser *chooser)
{
  GtkWidget *child;
  int n = 0, shown = 0, left = 0;
  while ((child = gtk_widget_get_first_child (chooser->list)) != NULL)
    gtk_box_remove (GTK_BOX (chooser->list), child);
  if (fw_session_document (chooser->session) == NULL)
    return;
  const FwDesign *design = fw_document_design (fw_session_document (chooser->session));
  const FwParam *params = fw_session_params (chooser->session, &n);
  g_autofree char *typed = g_utf8_casefold (gtk_editable_get_text (GTK_EDITABLE (chooser->search)), -1);
  for (int i = 0; i < n; i++)
    {
      g_autofree char *label = fw_param_label (design, params[i]);
      g_autofree char *folded = g_utf8_casefold (label, -1);
      if (!fw_param_moves (params[i]) || strstr (folded, typed) == NULL || fw_session_number_is_free (chooser->session, params[i]))
        continue;
      if (shown < FOUND)
        gtk_box_append (GTK_BOX (chooser->list), number_button (chooser, label, params[i]));
      left += shown >= FOUND;
      shown += shown < FOUND;
    }
  g_autofree char *more = g_strdup_printf (ngettext ("%d more: type part of its name", "%d more: type part of their names", left), left);
  gtk_label_set_text (GTK_LABEL (chooser->note), shown == 0 ? _ ("No number has that in its name.") : more);
  gtk_widget_set_visible (chooser->note, left > 0 || shown == 0);
}

static void
on_search_enter (Chooser *chooser)
{
  GtkWidget *first = gtk_widget_get_first_child (chooser->list);
  if (first != NULL)
    on_number (first, chooser);
}

GtkWidget *
fw_aim_number_chooser_new (FwSession *session)
{
  GtkWidget *button = gtk_menu_button_new (), *scroller = gtk_scrolled_window_new (), *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  Chooser *chooser = g_new0 (Chooser, 1);

  chooser->session = g_object_ref (session);
  chooser->popover = gtk_popover_new ();
  chooser->search = gtk_search_entry_new ();
  chooser->list = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  chooser->note = fw_note_label ("");
  gtk_widget_add_css_class (chooser->note, "dim-label");
  g_object_set (chooser->search, "placeholder-text", _ ("Find a number"), NULL);
  fw_widget_describe (chooser->search, _ ("Find a number that may change"), NULL);
  g_signal_connect_swapped (chooser->search, "search-changed", G_CALLBACK (on_search), chooser);
  g_signal_connect_swapped (chooser->search, "activate", G_CALLBACK (on_search_enter), chooser);
  fw_search_may_stop (chooser->search, chooser->popover);
  g_signal_connect_swapped (chooser->popover, "show", G_CALLBACK (on_search), chooser);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), chooser->list);
  gtk_widget_set_size_request (scroller, 280, 260);
  gtk_box_append (GTK_BOX (box), chooser->search);
  gtk_box_append (GTK_BOX (box), scroller);
  gtk_box_append (GTK_BOX (box), chooser->note);
  gtk_popover_set_child (GTK_POPOVER (chooser->popover), box);
  gtk_menu_button_set_popover (GTK_MENU_BUTTON (button), chooser->popover);
  gtk_menu_button_set_icon_name (GTK_MENU_BUTTON (button), "list-add-symbolic");
  gtk_widget_add_css_class (button, "flat");
  gtk_widget_set_tooltip_text (button, _ ("Add a number that may change"));
  fw_widget_describe (button, _ ("Add a number that may change"), NULL);
  g_object_set_data_full (G_OBJECT (button), "fw-chooser", chooser, chooser_free);
  return button;
}
