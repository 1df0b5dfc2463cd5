#include "cli/strength.h"

#include <glib/gi18n.h>
#include <math.h>

#include "cli/cli.h"
#include "doc/json.h"
#include "strength/strengthtrouble.h"

#define DEGREES (180 / G_PI)
#define MM 1000.0
#define MM_PER_INCH 25.4
#define MEGA 1e6

/* Never NULL: like all of GLib it ends the program where memory runs out. */
static FwStrength *
solved (const FwLoadTurn *turn, const FwMechanism *mech)
{
  FwStrength *strength = fw_strength_new (mech);
  if (strength == NULL)
    g_error ("out of memory");
  fw_strength_solve (strength, turn);
  return strength;
}

static gboolean
crank_known (const FwStrength *s)
{
  return s->crank->status == FW_FRAME_OK;
}

/* "mid", "in.right", "in.left" */
static char *
pin_name (const FwMechanism *mech, int pin)
{
  const FwCrank *crank = &mech->design->crank;
  const FwThrow *t = &crank->throws[mech->pins[pin].throw_index];
  if (!t->both || crank->runs != FW_RUNS_ACROSS)
    return g_strdup (t->name);
  return g_strconcat (t->name, mech->pins[pin].twin ? ".left" : ".right", NULL);
}

/* ---- As text ---- */

typedef struct
{
  GString *out;
  const char *part;
  FwLengths lengths;
} Sheet;

static void
line (const Sheet *sheet, const char *key, double value, double crank, double limit)
{
  if (!isfinite (value))
    return;
  g_autofree char *title = g_strconcat (sheet->part, ".", key, NULL), *name = fw_cli_column (title, 28);
  g_autofree char *size = fw_cli_number (value, "%10.4g"), *at = fw_cli_number (crank * DEGREES, "%5.1f");
  g_autofree char *most = fw_cli_number (limit, "%.4g");
  if (limit > 0)
    /* Translators: name of a figure, the figure, a crank angle, the most it may be. */
    g_string_append_printf (sheet->out, _ ("%s %s at %s°  of %s allowed\n"), name, size, at,
                            most);
  else
    /* Translators: name of a figure, the figure, a crank angle. */
    g_string_append_printf (sheet->out, _ ("%s %s at %s°\n"), name, size, at);
}

static void
sag_line (const Sheet *sheet, const char *key, FwPeak sag)
{
  gboolean inch = sheet->lengths == FW_LENGTHS_INCH;
  g_autofree char *name = g_strconcat (key, inch ? "_in" : "_mm", NULL);
  line (sheet, name, sag.value * MM / (inch ? MM_PER_INCH : 1), sag.crank, 0);
}

static void
part_lines (GString *out, const FwStrength *s, const FwPartStrength *p, FwLengths lengths)
{
  Sheet sheet = { out, fw_part_name (s->mechanism, p->part), lengths };
  if (p->sag.value != 0)
    sag_line (&sheet, p->part.kind == FW_PART_LINK ? "bow" : "sag", p->sag);
  line (&sheet, "stress_MPa", p->stress.value / MEGA, p->stress.crank, p->allowed / MEGA);
  if (p->pushes != NULL)
    line (&sheet, "push_N", p->push.value, p->push.crank, p->bears / FW_BUCKLING_FACTOR);
  if (!(p->natural > 0) || !isfinite (p->swing.swing))
    return;
  g_autofree char *title = g_strconcat (sheet.part, ".natural_Hz", NULL), *name = fw_cli_column (title, 28);
  g_autofree char *hertz = fw_cli_number (p->natural / (2 * G_PI), "%10.4g");
  g_autofree char *swing = fw_cli_length (p->swing.swing * MM, "%.3g", lengths),
                  *still = fw_cli_length (p->swing.still * MM, "%.3g", lengths);
  /* Translators: name of a figure, the figure, two lengths with their units. */
  g_string_append_printf (out, _ ("%s %s    swings by %s, by %s without its mass\n"),
                          name, hertz, swing, still);
}

static void
crank_lines (GString *out, const FwStrength *s, FwLengths lengths)
{
  for (int i = 0; i < s->mechanism->n_pins; i++)
    {
      g_autofree char *pin = pin_name (s->mechanism, i), *name = g_strdup_printf ("pin(%s)", pin);
      Sheet sheet = { out, name, lengths };
      sag_line (&sheet, "sag", s->pin_sag[i]);
      line (&sheet, "wind_up_deg", s->pin_wind_up[i].value * DEGREES, s->pin_wind_up[i].crank, 0);
    }
  for (int i = 0; i < s->crank->n_bearings; i++)
    {
      g_autofree char *station = fw_json_decimal (s->crank->bearings_mm[i] / (lengths == FW_LENGTHS_INCH ? MM_PER_INCH : 1), "%.4g", "");
      g_autofree char *name = g_strdup_printf ("bearing(%s)", station);
      Sheet sheet = { out, name, lengths };
      line (&sheet, "load_N", s->bearings[i].value, s->bearings[i].crank, 0);
    }
}

static void
all_lines (GString *out, const FwStrength *s, FwLengths lengths)
{
  if (s->n_parts == 0)
    return;
  g_string_append (out, _ ("\nStrength of the parts whose stock and material are known: greatest "
                           "size, and what is allowed (half of yield,\n"
                           "a third of Euler's load). A rod's bow counts a crooked start of 1/500 "
                           "of its length.\n\n"));
  if (crank_known (s))
    crank_lines (out, s, lengths);
  for (int i = 0; i < s->n_parts; i++)
    part_lines (out, s, &s->parts[i], lengths);
}

void
fw_cli_strength_text (GString *out, const FwLoadTurn *turn, const FwMechanism *mech, FwLengths lengths)
{
  FwStrength *s = solved (turn, mech);
  all_lines (out, s, lengths);
  fw_strength_free (s);
}

/* ---- As JSON ---- */

static void
add_number (cJSON *item, const char *key, double value)
{
  cJSON_AddItemToObject (item, key, fw_json_number (value));
}

static void
add_peak (cJSON *item, const char *key, const char *at_key, FwPeak peak, double scale)
{
  add_number (item, key, peak.value * scale);
  add_number (item, at_key, peak.crank * DEGREES);
}

static cJSON *
part_json (const FwStrength *s, const FwPartStrength *p)
{
  cJSON *item = cJSON_CreateObject ();
  cJSON_AddStringToObject (item, "part", fw_part_name (s->mechanism, p->part));
  add_peak (item, "sag_mm", "sag_at_deg", p->sag, MM);
  add_peak (item, "stress_MPa", "stress_at_deg", p->stress, 1 / MEGA);
  if (p->allowed > 0)
    add_number (item, "allowed_MPa", p->allowed / MEGA);
  if (p->pushes != NULL)
    {
      add_peak (item, "push_N", "push_at_deg", p->push, 1);
      add_number (item, "allowed_N", p->bears / FW_BUCKLING_FACTOR);
    }
  if (p->natural > 0)
    {
      add_number (item, "natural_Hz", p->natural / (2 * G_PI));
      add_number (item, "swing_mm", p->swing.swing * MM);
      add_number (item, "still_mm", p->swing.still * MM);
    }
  return item;
}

static void
add_all (cJSON *object, const FwStrength *s)
{
  cJSON *parts = cJSON_AddArrayToObject (object, "strength");
  for (int i = 0; i < s->n_parts; i++)
    cJSON_AddItemToArray (parts, part_json (s, &s->parts[i]));
  cJSON *pins = cJSON_AddArrayToObject (object, "crank_pins");
  cJSON *bearings = cJSON_AddArrayToObject (object, "bearings");
  for (int i = 0; i < s->mechanism->n_pins && crank_known (s); i++)
    {
      g_autofree char *name = pin_name (s->mechanism, i);
      cJSON *item = cJSON_CreateObject ();
      cJSON_AddStringToObject (item, "pin", name);
      add_peak (item, "sag_mm", "sag_at_deg", s->pin_sag[i], MM);
      add_peak (item, "wind_up_deg", "wind_up_at_deg", s->pin_wind_up[i], DEGREES);
      cJSON_AddItemToArray (pins, item);
    }
  for (int i = 0; i < s->crank->n_bearings && crank_known (s); i++)
    {
      cJSON *item = cJSON_CreateObject ();
      add_number (item, "at_mm", s->crank->bearings_mm[i]);
      add_peak (item, "load_N", "load_at_deg", s->bearings[i], 1);
      cJSON_AddItemToArray (bearings, item);
    }
}

void
fw_cli_strength_json (cJSON *object, const FwLoadTurn *turn, const FwMechanism *mech)
{
  FwStrength *s = solved (turn, mech);
  add_all (object, s);
  fw_strength_free (s);
}
