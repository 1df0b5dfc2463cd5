/* An answer of a search in words. */
#include "app/aimrows.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/widgetstyle.h"

static char *
number_words (const FwAimed *aimed, int answer, const FwDesign *design, const FwWishes *wishes, int i, FwLengths lengths)
{
  FwParam param;
  if (!fw_param_from_path (design, wishes->free[i].number, &param))
    return NULL;
  double before = fw_param_get (design, param), after = aimed->answers[answer].values[i];
  g_autofree char *label = fw_param_label (design, param);
  g_autofree char *from = fw_units_format (before, fw_param_unit (param), lengths, -1);
  g_autofree char *to = fw_units_format (after, fw_param_unit (param), lengths, -1);
  /* Translators: the name of a number, its value now, and what an answer makes of it */
  return g_str_equal (from, to) ? NULL : g_strdup_printf (_ ("%s: %s → %s"), label, from, to);
}

static char *
summary_words (const FwAimed *aimed, int answer, FwLengths lengths)
{
  const FwAnswer *a = &aimed->answers[answer];
  int missed = 0;
  for (int i = 0; i < aimed->n_wishes; i++)
    missed += !a->got[i].met;
  if (!a->goes_round)
    return g_strdup (_ ("does not go all the way round"));
  g_autofree char *push = fw_units_format (a->least_push_deg, FW_UNIT_DEG, lengths, 0);
  g_autofree char *trouble = a->n_troubles == 0 ? g_strdup (_ ("free of trouble"))
                                                : g_strdup_printf (ngettext ("%d spot of trouble", "%d spots of trouble", a->n_troubles), a->n_troubles);
  if (missed == 0)
    /* Translators: an answer: least push angle, and how much trouble there is */
    return g_strdup_printf (_ ("meets every wish; push from %s, %s"), push, trouble);
  return g_strdup_printf (ngettext ("misses %d wish; push from %s, %s", "misses %d wishes; push from %s, %s", missed), missed, push, trouble);
}

static void
add_note (GtkWidget *box, const char *words, const char *class)
{
  GtkWidget *note = fw_note_label (words);
  if (class != NULL)
    gtk_widget_add_css_class (note, class);
  gtk_box_append (GTK_BOX (box), note);
}

GtkWidget *
fw_aim_answer_row_new (FwSession *session, const FwAimed *aimed, int answer, const FwDesign *design, const FwWishes *wishes)
{
  const FwAnswer *a = &aimed->answers[answer];
  FwLengths lengths = fw_session_lengths (session);
  GtkWidget *row = gtk_list_box_row_new (), *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);
  g_autofree char *title = g_strdup_printf (_ ("Answer %d"), answer + 1), *summary = summary_words (aimed, answer, lengths);
  g_autofree char *name = g_strdup_printf (C_ ("answer", "%s: %s"), title, summary);
  GtkWidget *heading = gtk_label_new (title);

  gtk_label_set_xalign (GTK_LABEL (heading), 0);
  gtk_widget_add_css_class (heading, "heading");
  gtk_box_append (GTK_BOX (box), heading);
  add_note (box, summary, NULL);
  for (int i = 0; i < aimed->n_wishes && !a->all_met; i++)
    {
      if (a->got[i].met)
        continue;
      g_autofree char *asked = fw_aim_wish_words (design, &wishes->list[i], lengths);
      g_autofree char *got = fw_wish_value_words (&wishes->list[i], a->got[i].got, lengths);
      g_autofree char *words = g_strdup_printf (_ ("missed: %s (%s)"), asked, got);
      add_note (box, words, "aim-missed");
    }
  for (int i = 0; i < aimed->n_free; i++)
    {
      g_autofree char *words = number_words (aimed, answer, design, wishes, i, lengths);
      if (words != NULL)
        add_note (box, words, "dim-label");
    }
  gtk_widget_add_css_class (box, "aim-row");
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  fw_widget_describe (row, name, NULL);
  return row;
}
