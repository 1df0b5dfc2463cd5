#include "shop/cutwrite.h"

#include <cjson/cJSON.h>
#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "doc/json.h"

/* Numbers with a point, whatever the locale; NaN: null, or nothing. */
static void
add_number (cJSON *object, const char *key, double value)
{
  cJSON_AddItemToObject (object, key, fw_json_number (value));
}

static void
add_text (cJSON *object, const char *key, const char *text)
{
  if (text == NULL)
    cJSON_AddNullToObject (object, key);
  else
    cJSON_AddStringToObject (object, key, text);
}

/* ---- JSON ---- */

static void
add_sentences (cJSON *all, const char *key, char **sentences)
{
  cJSON *array = cJSON_AddArrayToObject (all, key);
  for (int i = 0; sentences[i] != NULL; i++)
    cJSON_AddItemToArray (array, cJSON_CreateString (sentences[i]));
}

static cJSON *
piece_json (const FwCutPiece *p)
{
  cJSON *item = cJSON_CreateObject ();
  add_text (item, "letter", p->made.letter);
  add_text (item, "part", p->part);
  add_text (item, "what", p->what);
  add_text (item, "stock", p->stock_name);
  add_number (item, "length_mm", p->length_mm);
  if (p->shape == FW_CUT_SHEET)
    add_number (item, "width_mm", p->width_mm);
  if (p->centres_mm > 0)
    add_number (item, "centres_mm", p->centres_mm);
  add_number (item, "count", p->count);
  add_number (item, "mass_g", p->mass_g);
  if (p->note != NULL)
    add_text (item, "note", p->note);
  return item;
}

static cJSON *
place_json (const FwCutList *list, const FwCutPlace *place, FwCutShape shape)
{
  cJSON *item = cJSON_CreateObject ();
  add_text (item, "letter", list->pieces[place->piece].made.letter);
  add_text (item, "part", list->pieces[place->piece].part);
  add_number (item, "at_mm", place->at_mm);
  if (shape == FW_CUT_SHEET)
    add_number (item, "up_mm", place->up_mm);
  add_number (item, "length_mm", place->length_mm);
  if (shape == FW_CUT_SHEET)
    {
      add_number (item, "width_mm", place->width_mm);
      cJSON_AddBoolToObject (item, "turned", place->turned);
    }
  return item;
}

static cJSON *
layout_json (const FwCutList *list, const FwStock *stock, const FwCutLayout *layout)
{
  cJSON *item = cJSON_CreateObject ();
  if (layout->shape == FW_CUT_BAR)
    {
      add_text (item, "stock", stock->bars[layout->stock].name);
      add_number (item, "length_mm", stock->bars[layout->stock].length_mm);
      add_number (item, "left_mm", layout->left_mm);
    }
  else
    {
      add_text (item, "stock", stock->sheets[layout->stock].name);
      add_number (item, "width_mm", stock->sheets[layout->stock].width_mm);
      add_number (item, "height_mm", stock->sheets[layout->stock].height_mm);
    }
  add_number (item, "used", layout->used);
  cJSON *array = cJSON_AddArrayToObject (item, "pieces");
  for (int i = 0; i < layout->n_places; i++)
    cJSON_AddItemToArray (array, place_json (list, &layout->places[i], layout->shape));
  return item;
}

static void
add_uses (cJSON *all, const FwCutList *list, const FwStock *stock)
{
  cJSON *array = cJSON_AddArrayToObject (all, "stock");
  for (int i = 0; i < list->n_uses; i++)
    {
      const FwCutUse *u = &list->uses[i];
      cJSON *item = cJSON_CreateObject ();
      add_text (item, "name", u->shape == FW_CUT_BAR ? stock->bars[u->stock].name : stock->sheets[u->stock].name);
      add_number (item, "used", u->used);
      add_number (item, "at_least", u->at_least);
      cJSON_AddBoolToObject (item, "proven", u->proven);
      add_number (item, "cost", u->cost);
      cJSON_AddItemToArray (array, item);
    }
}

char *
fw_cut_list_json (const FwCutList *list, const FwStock *stock)
{
  cJSON *all = cJSON_CreateObject ();
  cJSON *pieces = cJSON_AddArrayToObject (all, "pieces"), *fittings = cJSON_AddArrayToObject (all, "fittings");
  cJSON *bars = cJSON_AddArrayToObject (all, "bars"), *sheets = cJSON_AddArrayToObject (all, "sheets");
  for (int i = 0; i < list->n_pieces; i++)
    cJSON_AddItemToArray (pieces, piece_json (&list->pieces[i]));
  for (int i = 0; i < list->n_fittings; i++)
    {
      cJSON *item = cJSON_CreateObject ();
      add_text (item, "what", list->fittings[i].what);
      add_text (item, "size", list->fittings[i].size);
      add_number (item, "count", list->fittings[i].count);
      cJSON_AddItemToArray (fittings, item);
    }
  for (int i = 0; i < list->n_layouts; i++)
    cJSON_AddItemToArray (list->layouts[i].shape == FW_CUT_BAR ? bars : sheets, layout_json (list, stock, &list->layouts[i]));
  add_uses (all, list, stock);
  add_number (all, "mass_g", list->mass_g);
  cJSON_AddBoolToObject (all, "all_weighed", list->all_weighed);
  add_number (all, "cost", list->cost);
  cJSON_AddBoolToObject (all, "all_priced", list->all_priced);
  add_sentences (all, "problems", list->problems);
  add_sentences (all, "notes", list->notes);
  add_sentences (all, "settings", list->settings);
  add_sentences (all, "assembly", list->assembly);
  char *text = cJSON_Print (all);
  char *out = g_strconcat (text, "\n", NULL);
  cJSON_free (text);
  cJSON_Delete (all);
  return out;
}

/* ---- CSV: the pieces, then the fittings ---- */

static char *
csv_cell (const char *text)
{
  if (text == NULL)
    return g_strdup ("");
  if (strpbrk (text, ",\"\r\n") == NULL)
    return g_strdup (text);
  char **parts = g_strsplit (text, "\"", -1);
  g_autofree char *doubled = g_strjoinv ("\"\"", parts);
  g_strfreev (parts);
  return g_strconcat ("\"", doubled, "\"", NULL);
}

char *
fw_cut_list_csv (const FwCutList *list)
{
  GString *out = g_string_new ("letter,part,what,stock,length_mm,width_mm,count,mass_g\n");
  for (int i = 0; i < list->n_pieces; i++)
    {
      const FwCutPiece *p = &list->pieces[i];
      g_autofree char *part = csv_cell (p->part), *what = csv_cell (p->what), *stock = csv_cell (p->stock_name);
      g_autofree char *length = fw_json_decimal (p->length_mm, "%.9g", ""), *mass = fw_json_decimal (p->mass_g, "%.6g", "");
      g_autofree char *width = fw_json_decimal (p->shape == FW_CUT_SHEET ? p->width_mm : NAN, "%.9g", "");
      g_string_append_printf (out, "%s,%s,%s,%s,%s,%s,%d,%s\n", p->made.letter, part, what, stock, length, width, p->count, mass);
    }
  for (int i = 0; i < list->n_fittings; i++)
    {
      g_autofree char *what = csv_cell (list->fittings[i].what), *size = csv_cell (list->fittings[i].size);
      g_string_append_printf (out, ",%s,%s,,,,%d,\n", what, size, list->fittings[i].count);
    }
  return g_string_free (out, FALSE);
}

/* ---- Text ---- */

static char *
length_text (double mm, FwLengths lengths)
{
  return fw_units_format (mm, FW_UNIT_MM, lengths, -1);
}

static char *
mass_text (double g)
{
  return isnan (g) ? g_strdup ("") : fw_units_format (g, FW_UNIT_G, FW_LENGTHS_MM, g < 10 ? 1 : 0);
}

static char *
size_text (const FwCutPiece *p, FwLengths lengths)
{
  g_autofree char *length = length_text (p->length_mm, lengths), *width = length_text (p->width_mm, lengths);
  return p->shape == FW_CUT_SHEET ? g_strdup_printf (_ ("%s × %s"), length, width) : g_steal_pointer (&length);
}

/* Left in a column as wide as `width` characters, never cut short. */
static void
column (GString *line, const char *text, int width)
{
  int spare = width - (int) g_utf8_strlen (text, -1);
  g_string_append (line, text);
  for (int i = 0; i < MAX (spare, 1); i++)
    g_string_append_c (line, ' ');
}

static void
piece_text (GString *out, const FwCutPiece *p, FwLengths lengths)
{
  g_autofree char *size = size_text (p, lengths), *mass = mass_text (p->mass_g);
  g_autofree char *count = g_strdup_printf ("%d ×", p->count);
  GString *line = g_string_new ("  ");
  column (line, p->made.letter, 4);
  column (line, count, 6);
  column (line, size, 24);
  column (line, p->part, 34);
  g_string_append (line, mass);
  g_string_append_printf (out, "%s\n", g_strchomp (line->str));
  if (p->note != NULL)
    g_string_append_printf (out, "            %s\n", p->note);
  g_string_free (line, TRUE);
}

/* Pieces of the same stuff under one heading, in order of first appearance. */
static void
pieces_text (GString *out, const FwCutList *list, FwLengths lengths)
{
  for (int i = 0; i < list->n_pieces; i++)
    {
      gboolean said = FALSE;
      for (int k = 0; k < i && !said; k++)
        said = strcmp (list->pieces[k].what, list->pieces[i].what) == 0;
      if (said)
        continue;
      const char *stock = list->pieces[i].stock_name;
      if (stock != NULL)
        /* Translators: what pieces are ("tube, 10 mm across, wall 1 mm"), and the bar or sheet of the stock they are cut from. */
        g_string_append_printf (out, _ ("%s, from %s\n"), list->pieces[i].what, stock);
      else
        g_string_append_printf (out, "%s\n", list->pieces[i].what);
      for (int k = i; k < list->n_pieces; k++)
        if (strcmp (list->pieces[k].what, list->pieces[i].what) == 0)
          piece_text (out, &list->pieces[k], lengths);
    }
}

static void
layout_text (GString *out, const FwCutList *list, const FwStock *stock, const FwCutLayout *layout, FwLengths lengths)
{
  gboolean bar = layout->shape == FW_CUT_BAR;
  const FwStockSheet *sheet = bar ? NULL : &stock->sheets[layout->stock];
  g_autofree char *length = length_text (bar ? stock->bars[layout->stock].length_mm : sheet->width_mm, lengths);
  g_autofree char *height = length_text (bar ? 0 : sheet->height_mm, lengths), *left = length_text (layout->left_mm, lengths);
  GString *pieces = g_string_new (NULL);
  for (int i = 0; i < layout->n_places; i++)
    {
      const FwCutPlace *p = &layout->places[i];
      g_autofree char *at = length_text (p->at_mm, lengths), *up = length_text (p->up_mm, lengths);
      g_autofree char *size = length_text (p->length_mm, lengths);
      const char *letter = list->pieces[p->piece].made.letter;
      g_string_append (pieces, i > 0 ? ", " : "");
      if (bar)
        g_string_append_printf (pieces, "%s %s", letter, size);
      else if (p->turned)
        /* Translators: the letter of a part, and how far from the sheet's left and lower edges it lies. */
        g_string_append_printf (pieces, _ ("%s at %s, %s, turned"), letter, at, up);
      else
        /* Translators: the letter of a part, and how far from the sheet's left and lower edges it lies. */
        g_string_append_printf (pieces, _ ("%s at %s, %s"), letter, at, up);
    }
  if (bar)
    /* Translators: a bar of the stock, its length, the pieces cut from it, a length. */
    g_string_append_printf (out, _ ("  %s, %s: %s; left over %s\n"), stock->bars[layout->stock].name, length, pieces->str, left);
  else
    /* Translators: a sheet of the stock, its width and height, the pieces cut from it. */
    g_string_append_printf (out, _ ("  %s, %s × %s: %s\n"), sheet->name, length, height, pieces->str);
  g_string_free (pieces, TRUE);
}

static void
sentences_text (GString *out, const char *heading, char **sentences, gboolean numbered)
{
  if (sentences[0] == NULL)
    return;
  g_string_append_printf (out, "\n%s\n", heading);
  for (int i = 0; sentences[i] != NULL; i++)
    if (numbered)
      g_string_append_printf (out, "  %2d. %s\n", i + 1, sentences[i]);
    else
      g_string_append_printf (out, "  %s\n", sentences[i]);
}

char *
fw_cut_list_text (const FwCutList *list, const FwStock *stock, FwLengths lengths)
{
  GString *out = g_string_new (NULL);
  pieces_text (out, list, lengths);
  if (list->n_layouts > 0)
    g_string_append_printf (out, "\n%s\n", _ ("Laid into the stock"));
  for (int i = 0; i < list->n_layouts; i++)
    layout_text (out, list, stock, &list->layouts[i], lengths);
  if (list->n_fittings > 0)
    g_string_append_printf (out, "\n%s\n", _ ("Fittings"));
  for (int i = 0; i < list->n_fittings; i++)
    g_string_append_printf (out, "  %d × %s, %s\n", list->fittings[i].count, list->fittings[i].what, list->fittings[i].size);
  g_autofree char *mass = mass_text (list->mass_g), *cost = g_strdup_printf ("%.2f", list->cost);
  g_string_append_printf (out, list->all_weighed ? _ ("\nWeight of what is cut: %s\n") : _ ("\nWeight of what is cut, as far as known: %s\n"), mass);
  if (!isnan (list->cost))
    g_string_append_printf (out, list->all_priced ? _ ("Cost of the stock used: %s\n") : _ ("Cost of the stock used, as far as priced: %s\n"), cost);
  sentences_text (out, _ ("Settings to mark"), list->settings, FALSE);
  sentences_text (out, _ ("Order of assembly"), list->assembly, TRUE);
  sentences_text (out, _ ("Notes"), list->notes, FALSE);
  sentences_text (out, _ ("Cannot be done as it stands"), list->problems, FALSE);
  return g_string_free (out, FALSE);
}
