/* A whole design file: what stands at the top, the crank and the body. */
#include "doc/read.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <glib/gi18n.h>

#include "core/mechanism.h"
#include "doc/json.h"
#include "doc/words.h"

#define DEFAULT_MATERIAL "copper"

/* ---- Crank ---- */

const char *const fw_ride_words[]
    = { [FW_RIDE_FIXED] = "fixed", [FW_RIDE_RAIL] = "rail", [FW_RIDE_SLEEVE] = "sleeve", [FW_RIDE_ROCKER] = "rocker", NULL };
const char *const fw_side_words[]
    = { [FW_SIDE_MIDDLE] = "middle", [FW_SIDE_BOTH] = "both", [FW_SIDE_RIGHT] = "right", [FW_SIDE_LEFT] = "left", NULL };

static gboolean
read_throw (FwReader *r, const cJSON *object, FwThrow *throw, int index, FwNames *names)
{
  static const char *const sides[] = { "middle", "both", NULL };
  int side = 0;

  throw->width_mm = 20;
  if (!cJSON_IsObject (object))
    return fw_read_fail (r, NULL, FW_DOC_ERROR_INVALID,
                         _("an object { } was expected for a throw"));
  if (!fw_read_name (r, object, names, index, &throw->name)
      || !fw_read_number (r, object, "radius", FW_REQUIRED, FW_RULE_NOT_NEGATIVE, &throw->radius_mm)
      || !fw_read_number (r, object, "phase", FW_OPTIONAL, FW_RULE_ANY, &throw->phase_deg)
      || !fw_read_number (r, object, "station", FW_OPTIONAL, FW_RULE_ANY, &throw->station_mm)
      || !fw_read_number (r, object, "width", FW_OPTIONAL, FW_RULE_ABOVE_ZERO, &throw->width_mm)
      || !fw_read_choice (r, object, "side", FW_OPTIONAL, sides, &side))
    return FALSE;
  throw->both = side == 1;
  return TRUE;
}

static gboolean
read_throws (FwReader *r, const cJSON *array, FwCrank *crank, FwNames *names)
{
  const cJSON *item;
  int n = cJSON_GetArraySize (array), i = 0;

  crank->throws = calloc ((size_t)n + 1, sizeof *crank->throws);
  if (!crank->throws)
    return fw_read_no_memory (r);
  crank->n_throws = n;
  cJSON_ArrayForEach (item, array)
  {
    gsize mark = fw_read_enter_nth (r, "throws", i);
    if (!read_throw (r, item, &crank->throws[i], i, names))
      return FALSE;
    fw_read_leave (r, mark);
    i++;
  }
  return TRUE;
}

static gboolean
read_crank (FwReader *r, const cJSON *root, FwDesign *design, FwNames *throws)
{
  static const char *const runs[] = { "across", "along", NULL };
  FwCrank *crank = &design->crank;
  const cJSON *object, *array;
  int run = 0;

  crank->turns_per_minute = 30;
  crank->diameter_mm = 8;
  if (!fw_read_object (r, root, "crank", FW_REQUIRED, &object))
    return FALSE;
  gsize mark = fw_read_enter (r, "crank");
  if (!fw_read_choice (r, object, "runs", FW_REQUIRED, runs, &run)
      || !fw_read_number (r, object, "turns_per_minute", FW_OPTIONAL, FW_RULE_NOT_NEGATIVE,
                          &crank->turns_per_minute)
      || !fw_read_number (r, object, "diameter", FW_OPTIONAL, FW_RULE_ABOVE_ZERO,
                          &crank->diameter_mm)
      || !fw_read_material (r, object, DEFAULT_MATERIAL, &crank->material)
      || !fw_read_wall (r, object, crank->diameter_mm, &crank->wall_mm)
      || !fw_read_array (r, object, "throws", FW_REQUIRED, &array)
      || !read_throws (r, array, crank, throws) || !fw_read_crank_weights (r, object, crank)
      || !fw_read_build (r, object, design))
    return FALSE;
  crank->runs = run == 0 ? FW_RUNS_ACROSS : FW_RUNS_ALONG;
  crank->stuff = fw_read_stuff (r, object);
  fw_read_leave (r, mark);
  return TRUE;
}

/* ---- Body ---- */

static gboolean
read_link (FwReader *r, const cJSON *object, FwBody *body)
{
  const cJSON *link;

  if (!fw_read_object (r, object, "link", FW_REQUIRED, &link))
    return FALSE;
  gsize mark = fw_read_enter (r, "link");
  if (!fw_read_pair (r, link, "pivot", FW_REQUIRED, &body->pivot_mm)
      || !fw_read_number (r, link, "length", FW_REQUIRED, FW_RULE_ABOVE_ZERO, &body->link_mm)
      || !fw_read_number (r, link, "on", FW_REQUIRED, FW_RULE_ABOVE_ZERO, &body->on_mm))
    return FALSE;
  fw_read_leave (r, mark);
  return TRUE;
}

static gboolean
read_ride (FwReader *r, const cJSON *object, FwBody *body, FwNames *throws)
{
  if (body->ride != FW_RIDE_FIXED && !fw_read_reference (r, object, "throw", throws, TRUE, &body->throw_index))
    return FALSE;
  switch (body->ride)
    {
    case FW_RIDE_FIXED:
      return fw_read_point (r, object, "at", FW_REQUIRED, &body->at_mm)
             && fw_read_number (r, object, "tilt", FW_REQUIRED, FW_RULE_ANY, &body->tilt_deg);
    case FW_RIDE_RAIL:
      return fw_read_number (r, object, "rod", FW_REQUIRED, FW_RULE_ABOVE_ZERO, &body->rod_mm)
             && fw_read_number (r, object, "offset", FW_REQUIRED, FW_RULE_ANY, &body->offset_mm);
    case FW_RIDE_SLEEVE:
      return fw_read_number (r, object, "post", FW_REQUIRED, FW_RULE_ABOVE_ZERO, &body->post_mm)
             && fw_read_pair (r, object, "guide", FW_REQUIRED, &body->guide_mm);
    case FW_RIDE_ROCKER:
      break;
    }
  return fw_read_number (r, object, "post", FW_REQUIRED, FW_RULE_ABOVE_ZERO, &body->post_mm) && read_link (r, object, body);
}

static gboolean
read_body (FwReader *r, const cJSON *root, FwDesign *design, FwNames *throws)
{
  FwBody *body = &design->body;
  const cJSON *object;
  int ride = 0;

  body->diameter_mm = design->crank.diameter_mm;
  if (!fw_read_object (r, root, "body", FW_REQUIRED, &object))
    return FALSE;
  gsize mark = fw_read_enter (r, "body");
  if (!fw_read_choice (r, object, "ride", FW_REQUIRED, fw_ride_words, &ride))
    return FALSE;
  body->ride = (FwRide)ride;
  if (!read_ride (r, object, body, throws)
      || !fw_read_number (r, object, "diameter", FW_OPTIONAL, FW_RULE_ABOVE_ZERO,
                          &body->diameter_mm)
      || !fw_read_material (r, object, DEFAULT_MATERIAL, &body->material)
      || !fw_read_wall (r, object, body->diameter_mm, &body->wall_mm)
      || !fw_read_number (r, object, "play", FW_OPTIONAL, FW_RULE_NOT_NEGATIVE, &body->play_mm)
      || !fw_read_lumps (r, object, body)
      || !fw_read_number (r, object, "mass", FW_OPTIONAL, FW_RULE_NOT_NEGATIVE, &body->mass_g)
      || !fw_read_point (r, object, "centre", FW_OPTIONAL, &body->centre_mm)
      || !fw_read_number (r, object, "gyration", FW_OPTIONAL, FW_RULE_NOT_NEGATIVE,
                          &body->gyration_mm))
    return FALSE;
  body->stuff = fw_read_stuff (r, object);
  fw_read_leave (r, mark);
  return TRUE;
}

/* ---- The whole ---- */

static gboolean
check_version (FwReader *r, const cJSON *root)
{
  const cJSON *item = cJSON_GetObjectItemCaseSensitive (root, "version");
  double version = cJSON_IsNumber (item) ? item->valuedouble : 0;
  if (version == 1)
    return TRUE;

  char *brief = fw_json_brief (item);
  if (version > 1 && version == floor (version))
    fw_read_fail (r, "version", FW_DOC_ERROR_VERSION,
                  _("1 was expected, %s was found: this was written by a newer program"), brief);
  else
    fw_read_fail (r, "version", FW_DOC_ERROR_INVALID, _("1 was expected, %s was found"), brief);
  g_free (brief);
  return FALSE;
}

/* What kind of file it is, before anything else: a newer file may follow other rules. */
static gboolean
check_format (FwReader *r, const cJSON *root)
{
  if (!cJSON_IsObject (root))
    return fw_read_fail (r, NULL, FW_DOC_ERROR_VERSION,
                         _("a design, an object { }, was expected"));
  const cJSON *item = cJSON_GetObjectItemCaseSensitive (root, "format");
  if (cJSON_IsString (item) && strcmp (item->valuestring, "flapwright design") == 0)
    return check_version (r, root);

  char *brief = fw_json_brief (item);
  fw_read_fail (r, "format", FW_DOC_ERROR_VERSION,
                _("\"flapwright design\" was expected, %s was found"), brief);
  g_free (brief);
  return FALSE;
}

/* That the parts can be put together as a mechanism at all. */
static gboolean
check_build (FwReader *r, const FwDesign *design)
{
  FwMechanism *mechanism = NULL;
  FwFault fault = { .kind = 'b' };

  FwStatus status = fw_mechanism_build (design, &mechanism, &fault);
  if (status == FW_OK)
    {
      fw_mechanism_free (mechanism);
      return TRUE;
    }
  if (status == FW_NO_MEMORY)
    return fw_read_no_memory (r);

  const char *kind = fault.kind == 't'   ? "crank.throws"
                     : fault.kind == 'p' ? "panels"
                     : fault.kind == 'r' ? "rods"
                     : fault.kind == 'e' ? "springs"
                     : fault.kind == 'w' ? "crank.counterweights"
                     : fault.kind == 'c' ? "crank"
                     : fault.kind == 's' ? "base"
                                         : "body";
  char *words = fw_words_fault (design, status, &fault);
  gsize mark = strchr ("tprew", fault.kind) ? fw_read_enter_nth (r, kind, fault.index)
                                          : fw_read_enter (r, kind);
  fw_read_fail (r, fault.what, FW_DOC_ERROR_INVALID, "%s", words);
  fw_read_leave (r, mark);
  g_free (words);
  return FALSE;
}

static gboolean
read_all (FwReader *r, const cJSON *root, FwDesign *design, FwNames *throws, FwNames *panels)
{
  const char *title = "";

  return check_format (r, root) && fw_read_text (r, root, "title", FW_OPTIONAL, &title)
         && fw_read_stock (r, root) && fw_read_cutting (r, root, design) && fw_read_drive (r, root, design)
         && fw_read_print (r, root, design)
         && read_crank (r, root, design, throws) && read_body (r, root, design, throws)
         && fw_read_panels (r, root, design, panels)
         && fw_read_rods (r, root, design, throws, panels)
         && fw_read_springs (r, root, design, panels) && fw_read_base (r, root, design)
         && fw_read_look (r, root, design, panels) && fw_read_wishes (r, root)
         && fw_read_versions (r, root) && fw_read_measured (r, root) && check_build (r, design)
         && fw_read_spread (r, root, design);
}

FwDesign *
fw_design_read_within (FwReader *r, const cJSON *tree)
{
  FwNames *throws = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  FwNames *panels = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  FwDesign *design = calloc (1, sizeof *design);
  gboolean good = design ? read_all (r, tree, design, throws, panels) : fw_read_no_memory (r);

  if (!good)
    {
      fw_design_free (design);
      design = NULL;
    }
  g_hash_table_unref (throws);
  g_hash_table_unref (panels);
  return design;
}

FwDesign *
fw_design_read (const cJSON *tree, const char *name, GError **error)
{
  FwReader r = { .name = name, .path = g_string_new (NULL), .error = error };
  FwDesign *design = fw_design_read_within (&r, tree);

  g_string_free (r.path, TRUE);
  return design;
}
