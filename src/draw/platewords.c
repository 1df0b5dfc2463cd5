#include "draw/platewords.h"

#include <glib/gi18n.h>
#include <string.h>

#include "doc/words.h"
#include "draw/layout.h"
#include "draw/overlay.h"
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

/* ---- Trouble ---- */

/* The same of the other side, at the same crank angles. */
static gboolean
said_together (const FwScene *scene, int i, int k)
{
  const FwTrouble *a = &scene->troubles->items[i], *b = &scene->troubles->items[k];
  return a->kind == b->kind && a->severity == b->severity && a->second == b->second
         && fabs (a->from - b->from) < 2e-3 && fabs (a->to - b->to) < 2e-3
         && strcmp (fw_part_plain_name (scene->mechanism, a->part),
                    fw_part_plain_name (scene->mechanism, b->part))
                == 0;
}

/* The first that says the same. */
static int
first_of (const FwScene *scene, int k)
{
  int i = 0;
  while (i < k && !said_together (scene, i, k))
    i++;
  return i;
}

/* It, or what is said with it, has its number in a frame. */
static gboolean
is_marked (const FwScene *scene, int i, int frames)
{
  for (int k = i; k < scene->troubles->n; k++)
    for (int f = 0; f < frames; f++)
      if (fw_trouble_is_marked (scene->troubles, k, 360.0 * f / frames * G_PI / 180)
          && first_of (scene, k) == i)
        return TRUE;
  return FALSE;
}

static char *
numbers (const FwScene *scene, int i)
{
  GString *text = g_string_new (NULL);
  for (int k = i; k < scene->troubles->n; k++)
    if (first_of (scene, k) == i)
      g_string_append_printf (text, "%s%d", k == i ? "" : ", ", k + 1);
  return g_string_free (text, FALSE);
}

static void
add_trouble (GString *out, const FwScene *scene, int i)
{
  const FwTrouble *t = &scene->troubles->items[i];
  const char *kind = fw_words_trouble_short (t->kind),
             *part = fw_part_plain_name (scene->mechanism, t->part);
  g_autofree char *number = numbers (scene, i);
  if (!fw_words_trouble_has_angle (t->kind))
    {
      /* Translators: number, kind of trouble, part. */
      g_string_append_printf (out, _ ("%s  %s: %s\n"), number, kind, part);
      return;
    }
  if (t->to - t->from > 2 * G_PI - 1e-6)
    {
      /* Translators: number, kind of trouble, part. */
      g_string_append_printf (out, _ ("%s  %s: %s, all the way round\n"), number, kind, part);
      return;
    }
  double to = fmod (t->to * 180 / G_PI, 360);
  g_autofree char *from_words = degrees (round (t->from * 180 / G_PI)),
                  *to_words = degrees (round (to));
  /* Translators: number, kind of trouble, part, from and to crank angle. */
  g_string_append_printf (out, _ ("%s  %s: %s, %s to %s\n"), number, kind, part, from_words,
                          to_words);
}

char *
fw_plate_trouble (const FwScene *scene, int frames)
{
  const FwTroubleList *list = scene->troubles;
  int shown = 0, more = 0;
  GString *out = g_string_new (NULL);
  for (int i = 0; list != NULL && i < list->n; i++)
    {
      if (first_of (scene, i) != i)
        continue;
      if (shown >= MOST_TROUBLES && !is_marked (scene, i, frames))
        {
          more++;
          continue;
        }
      add_trouble (out, scene, i);
      shown++;
    }
  if (more > 0)
    g_string_append_printf (out, ngettext ("and %d more", "and %d more", (gulong)more), more);
  if (shown == 0)
    g_string_append (out, _ ("Goes round free of trouble."));
  return g_string_free (out, FALSE);
}
