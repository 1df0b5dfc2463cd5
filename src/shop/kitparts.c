/* The kit's parts: a card for each, with its picture, letter, name, count and size. */
#include <glib/gi18n.h>
#include <stdlib.h>
#include <string.h>

#include "shop/kitlayout.h"
#include "shop/solidparts.h"

#define CARD 64.0
#define GAP 14.0
#define PICTURE 0.36 /* share of a card's width */

typedef struct
{
  const char *letter;
  const char *name;
  FwKitKind kind;
  int index;
  int count;
  char *size; /* owned */
  const char *of;
} Card;

/* ---- What stands on a card ---- */

static char *
piece_size (const FwCutPiece *piece, FwLengths lengths)
{
  g_autofree char *length = fw_units_format (piece->length_mm, FW_UNIT_MM, lengths, -1);
  if (piece->shape == FW_CUT_BAR)
    return g_strdup (length);
  g_autofree char *along = fw_units_format_bare (piece->length_mm, FW_UNIT_MM, lengths, -1);
  g_autofree char *across = fw_units_format (piece->width_mm, FW_UNIT_MM, lengths, -1);
  return g_strdup_printf ("%s\u00a0× %s", along, across);
}

static void
add_cut (GArray *cards, const FwKit *kit)
{
  for (int i = 0; i < kit->cut->n_pieces; i++)
    {
      const FwCutPiece *piece = &kit->cut->pieces[i];
      const Card card = { .letter = piece->made.letter,
                          .name = piece->part,
                          .kind = piece->shape == FW_CUT_BAR ? FW_KIT_BAR : FW_KIT_SHEET,
                          .index = i,
                          .count = piece->count,
                          .size = piece_size (piece, kit->lengths),
                          .of = piece->what };
      g_array_append_val (cards, card);
    }
}

static void
add_printed (GArray *cards, const FwKit *kit)
{
  for (int i = 0; i < kit->solids->n_parts; i++)
    {
      const FwSolidPart *part = &kit->solids->parts[i];
      if (part->mesh == NULL)
        continue;
      const Card card = { .letter = part->letter,
                          .name = part->name,
                          .kind = FW_KIT_SOLID,
                          .index = i,
                          .count = part->count,
                          .size = fw_solid_size_words (part, kit->lengths),
                          .of = _ ("printed") };
      g_array_append_val (cards, card);
    }
}

static int
by_letter (const void *a, const void *b)
{
  const Card *p = a, *q = b;
  size_t m = strlen (p->letter), n = strlen (q->letter);
  return m != n ? (m > n) - (m < n) : strcmp (p->letter, q->letter);
}

static void
clear_card (gpointer data)
{
  g_free (((Card *)data)->size);
}

/* ---- Placing ---- */

static char *
measure_of (const Card *card)
{
  g_autoptr (GString) size = g_string_new (card->size);
  g_string_replace (size, " mm", "\u00a0mm", 0); /* a unit does not stand alone on a line */
  return g_strdup_printf (C_ ("count and size", "%d of %s"), card->count, size->str);
}

static double
words_height (const FwKitFlow *flow, const Card *card, double width)
{
  g_autofree char *measure = measure_of (card);
  return fw_kit_text_height (flow, card->name, width, 8.5, TRUE)
         + fw_kit_text_height (flow, card->of, width, 7.5, FALSE)
         + fw_kit_text_height (flow, measure, width, 8.5, FALSE) + 5 * flow->unit;
}

static void
put_card (FwKitFlow *flow, const Card *card, double x, double y, double width, double height,
          gboolean first)
{
  double unit = flow->unit, picture = PICTURE * width, words = x + picture + 10 * unit;
  double room = width - picture - 10 * unit, at = y;
  if (!first)
    fw_kit_put (flow, FW_KIT_RULE, x, y - 7 * unit, width, 0);
  FwKitItem *item = fw_kit_put (flow, card->kind, x + 22 * unit, y + 1 * unit, picture - 18 * unit,
                                fmin (height - 6 * unit, 58 * unit));
  item->index = card->index;
  fw_kit_badge (flow, card->letter, x, y, 8.5);
  at += fw_kit_text_at (flow, card->name, words, at, room, 8.5, TRUE, FALSE);
  g_autofree char *measure = measure_of (card);
  at += fw_kit_text_at (flow, measure, words, at + 1 * unit, room, 8.5, FALSE, FALSE) + 2 * unit;
  fw_kit_text_at (flow, card->of, words, at, room, 7.5, FALSE, TRUE);
}

void
fw_kit_fill_parts (FwKitFlow *flow)
{
  const char *heading = _ ("Parts");
  g_autoptr (GArray) cards = g_array_new (FALSE, FALSE, sizeof (Card));
  g_array_set_clear_func (cards, clear_card);
  add_cut (cards, flow->kit);
  add_printed (cards, flow->kit);
  g_array_sort (cards, by_letter);
  double gap = GAP * flow->unit;
  guint columns = flow->kit->width > 560 ? 3 : 2;
  double width = (fw_kit_flow_width (flow) - (columns - 1) * gap) / columns;
  double room = width - PICTURE * width - 10 * flow->unit;
  gboolean first = TRUE;
  fw_kit_flow_page (flow, heading);
  for (guint i = 0; i < cards->len; i += columns)
    {
      double height = CARD * flow->unit;
      for (guint k = i; k < MIN (i + columns, cards->len); k++)
        height = fmax (height, words_height (flow, &g_array_index (cards, Card, k), room));
      const GArray *before = flow->page;
      fw_kit_flow_need (flow, height, heading);
      first = first || flow->page != before;
      for (guint k = i; k < MIN (i + columns, cards->len); k++)
        put_card (flow, &g_array_index (cards, Card, k), flow->left + (k - i) * (width + gap), flow->y, width,
                  height, first);
      first = FALSE;
      flow->y += height + 12 * flow->unit;
    }
}
