#include "draw/platewords.h"

#include <glib/gi18n.h>

#include "doc/words.h"
#include "draw/layout.h"
#include "draw/striplayout.h"

#define MOST_TROUBLES 5

static char *
mm (double value, FwLengths lengths)
{
  return fw_figure (value, FW_UNIT_MM, lengths);
}

static char *
degrees (double value)
{
  return fw_figure (value, FW_UNIT_DEG, FW_LENGTHS_MM);
}

static void
add_crank (GString *out, const FwDesign *d, FwLengths lengths)
{
  char *speed = fw_figure (d->crank.turns_per_minute, FW_UNIT_TURNS_PER_MINUTE, FW_LENGTHS_MM);
  if (d->crank.runs == FW_RUNS_ACROSS)
    g_string_append_printf (out, _ ("Crank across, %s"), speed);
  else
    g_string_append_printf (out, _ ("Crank along, %s"), speed);
  g_free (speed);
  for (int i = 0; i < d->crank.n_throws; i++)
    {
      const FwThrow *t = &d->crank.throws[i];
      char *radius = mm (t->radius_mm, lengths), *phase = degrees (t->phase_deg);
      g_string_append (out, i == 0 ? ".  " : ",  ");
      /* Translators: a throw's name, radius and phase. */
      g_string_append_printf (out, _ ("%s R %s at %s"), t->name, radius, phase);
      g_free (radius);
      g_free (phase);
    }
  g_string_append (out, ".\n");
}

static void
add_body (GString *out, const FwBody *b, FwLengths lengths)
{
  char *first = NULL, *second = NULL;
  switch (b->ride)
    {
    case FW_RIDE_FIXED:
      first = mm (b->at_mm.z, lengths);
      g_string_append_printf (out, _ ("Body fixed, %s above the crank.\n"), first);
      break;
    case FW_RIDE_RAIL:
      first = mm (b->rod_mm, lengths);
      second = mm (b->offset_mm, lengths);
      g_string_append_printf (out, _ ("Body on a rail, rod %s, offset %s.\n"), first, second);
      break;
    case FW_RIDE_SLEEVE:
      first = mm (b->post_mm, lengths);
      second = mm (b->guide_mm.y, lengths);
      g_string_append_printf (out, _ ("Body in a sleeve, post %s, guide %s above the crank.\n"),
                              first, second);
      break;
    case FW_RIDE_ROCKER:
      first = mm (b->post_mm, lengths);
      second = mm (b->link_mm, lengths);
      g_string_append_printf (out, _ ("Body on a rocker, post %s, link %s.\n"), first, second);
      break;
    }
  g_free (first);
  g_free (second);
}

static void
add_rods (GString *out, const FwDesign *d, FwLengths lengths)
{
  if (d->n_rods == 0)
    return;
  g_string_append (out, _ ("Rods"));
  for (int i = 0; i < d->n_rods; i++)
    {
      char *length = mm (d->rods[i].length_mm, lengths);
      g_string_append_printf (out, "%s %s %s", i == 0 ? "  " : ",  ", d->rods[i].name, length);
      g_free (length);
    }
  g_string_append (out, ".");
}

char *
fw_plate_settings (const FwScene *scene, FwLengths lengths)
{
  const FwDesign *d = scene->mechanism->design;
  GString *out = g_string_new (NULL);
  add_crank (out, d, lengths);
  add_body (out, &d->body, lengths);
  add_rods (out, d, lengths);
  return g_string_free (out, FALSE);
}

char *
fw_plate_trouble (const FwScene *scene)
{
  const FwTroubleList *list = scene->troubles;
  int shown = 0;
  GString *out = g_string_new (NULL);
  if (list == NULL)
    return g_string_free (out, FALSE);
  for (int i = 0; i < list->n && shown < MOST_TROUBLES; i++)
    {
      const FwTrouble *t = &list->items[i];
      if (t->severity == FW_REMARK || fw_trouble_is_echo (list, i))
        continue;
      shown++;
      if (t->to - t->from > 2 * G_PI - 1e-6)
        {
          /* Translators: number, kind of trouble, part. */
          g_string_append_printf (out, _ ("%d  %s: %s, all the way round\n"), i + 1,
                                  fw_words_trouble_short (t->kind),
                                  fw_part_plain_name (scene->mechanism, t->part));
          continue;
        }
      double to = fmod (t->to * 180 / G_PI, 360);
      char *from_words = degrees (round (t->from * 180 / G_PI)), *to_words = degrees (round (to));
      /* Translators: number, kind of trouble, part, from and to crank angle. */
      g_string_append_printf (out, _ ("%d  %s: %s, %s to %s\n"), i + 1,
                              fw_words_trouble_short (t->kind),
                              fw_part_plain_name (scene->mechanism, t->part), from_words, to_words);
      g_free (from_words);
      g_free (to_words);
    }
  if (shown == 0)
    g_string_append (out, _ ("Goes round free of trouble."));
  return g_string_free (out, FALSE);
}
