/* What each number of a design is called. */
#include "doc/document.h"

#include <string.h>

#include <glib/gi18n.h>

#include "doc/fill.h"

/* Of one number: within its group, and by itself with the part's name in the gap. */
typedef struct
{
  const char *brief, *full;
} Label;

/* Kinds with one number. */
static const Label single[FW_N_PARAM_KINDS] = {
  [FW_PARAM_SPEED] = { N_("Speed"), N_("Crank speed") },
  [FW_PARAM_CRANK_DIAMETER] = { N_("Diameter"), N_("Crank diameter") },
  [FW_PARAM_THROW_RADIUS] = { N_("Radius"), N_("Radius of %s") },
  [FW_PARAM_THROW_PHASE] = { N_("Phase"), N_("Phase of %s") },
  [FW_PARAM_THROW_STATION] = { N_("Station"), N_("Station of %s") },
  [FW_PARAM_THROW_WIDTH] = { N_("Pin width"), N_("Pin width of %s") },
  [FW_PARAM_BODY_TILT] = { N_("Tilt"), N_("Body tilt") },
  [FW_PARAM_BODY_ROD] = { N_("Rod length"), N_("Body rod length") },
  [FW_PARAM_BODY_OFFSET] = { N_("Rail offset"), N_("Rail offset") },
  [FW_PARAM_BODY_POST] = { N_("Post length"), N_("Post length") },
  [FW_PARAM_BODY_LINK] = { N_("Link length"), N_("Link length") },
  [FW_PARAM_BODY_ON] = { N_("Link height on the post"), N_("Link height on the post") },
  [FW_PARAM_BODY_MASS] = { N_("Mass"), N_("Body mass") },
  [FW_PARAM_BODY_GYRATION] = { N_("Radius of gyration"), N_("Body radius of gyration") },
  [FW_PARAM_PANEL_SWEEP] = { N_("Sweep"), N_("Sweep of %s") },
  [FW_PARAM_PANEL_CANT] = { N_("Cant"), N_("Cant of %s") },
  [FW_PARAM_PANEL_SPAN] = { N_("Span"), N_("Span of %s") },
  [FW_PARAM_PANEL_THICKNESS] = { N_("Thickness"), N_("Thickness of %s") },
  [FW_PARAM_PANEL_MASS] = { N_("Mass"), N_("Mass of %s") },
  [FW_PARAM_ROD_LENGTH] = { N_("Length"), N_("Length of %s") },
  [FW_PARAM_ROD_NEAR] = { N_("Assembled near"), N_("Assembly angle of %s") },
  [FW_PARAM_ROD_DIAMETER] = { N_("Diameter"), N_("Diameter of %s") },
  [FW_PARAM_ROD_MASS] = { N_("Mass"), N_("Mass of %s") },
  [FW_PARAM_ROD_LEAN_LIMIT] = { N_("Lean limit"), N_("Lean limit of %s") },
  [FW_PARAM_ROD_BEND_LIMIT] = { N_("Bend limit"), N_("Bend limit of %s") },
  [FW_PARAM_HANDLE] = { N_("Handle radius"), N_("Handle radius") },
  [FW_PARAM_ROD_PLAY] = { N_("Play"), N_("Play of %s") },
  [FW_PARAM_BODY_PLAY] = { N_("Play"), N_("Play of the body's guide") },
  [FW_PARAM_PANEL_PLAY] = { N_("Hinge play"), N_("Hinge play of %s") },
  [FW_PARAM_SPRING_RATE] = { N_("Stiffness"), N_("Stiffness of %s") },
  [FW_PARAM_SPRING_FREE] = { N_("Free length"), N_("Free length of %s") },
  [FW_PARAM_WEIGHT_MASS] = { N_("Mass"), N_("Mass of %s") },
  [FW_PARAM_WEIGHT_RADIUS] = { N_("Radius"), N_("Radius of %s") },
  [FW_PARAM_WEIGHT_PHASE] = { N_("Phase"), N_("Phase of %s") },
  [FW_PARAM_WEIGHT_STATION] = { N_("Station"), N_("Station of %s") },
  [FW_PARAM_BODY_DIAMETER] = { N_("Post diameter"), N_("Post diameter") },
  [FW_PARAM_CRANK_WALL] = { N_("Wall (0: solid)"), N_("Crank wall") },
  [FW_PARAM_BODY_WALL] = { N_("Post wall (0: solid)"), N_("Post wall") },
  [FW_PARAM_ROD_WALL] = { N_("Wall (0: solid)"), N_("Wall of %s") },
  [FW_PARAM_PANEL_AREAL] = { N_("Sheet weight"), N_("Sheet weight of %s") },
  [FW_PARAM_LUMP_MASS] = { N_("Mass"), N_("Mass of the weight %s") },
  [FW_PARAM_PLATE_TOP] = { N_("Plate height"), N_("Plate height") },
  [FW_PARAM_BASE_MASS] = { N_("Mass"), N_("Base mass") },
  [FW_PARAM_FRICTION] = { N_("Friction of joints"), N_("Friction of joints") },
  [FW_PARAM_PIN_RADIUS] = { N_("Radius of joint pins"), N_("Radius of joint pins") },
  [FW_PARAM_RESTITUTION] = { N_("Rebound of knocks"), N_("Rebound of knocks") },
  [FW_PARAM_MARGIN] = { N_("Margin of the motor"), N_("Margin of the motor") },
};

/* x, y, z of the world or the body; then u, v, w of a panel. */
static const Label hinge[6] = {
  { N_("Hinge across"), N_("Hinge across of %s") },
  { N_("Hinge forward"), N_("Hinge forward of %s") },
  { N_("Hinge height"), N_("Hinge height of %s") },
  { N_("Hinge outward"), N_("Hinge outward of %s") },
  { N_("Hinge along"), N_("Hinge along of %s") },
  { N_("Hinge height"), N_("Hinge height of %s") },
};

static const Label from[6] = {
  { N_("Start across"), N_("Start across of %s") },
  { N_("Start forward"), N_("Start forward of %s") },
  { N_("Start height"), N_("Start height of %s") },
  { N_("Start outward"), N_("Start outward of %s") },
  { N_("Start along"), N_("Start along of %s") },
  { N_("Start height"), N_("Start height of %s") },
};

static const Label to[6] = {
  { N_("End across"), N_("End across of %s") },
  { N_("End forward"), N_("End forward of %s") },
  { N_("End height"), N_("End height of %s") },
  { N_("End outward"), N_("End outward of %s") },
  { N_("End along"), N_("End along of %s") },
  { N_("End height"), N_("End height of %s") },
};

static const Label hold[3] = {
  { N_("Hold outward"), N_("Hold outward of %s") },
  { N_("Hold along"), N_("Hold along of %s") },
  { N_("Hold height"), N_("Hold height of %s") },
};

static const Label centre[3] = {
  { N_("Centre outward"), N_("Centre outward of %s") },
  { N_("Centre along"), N_("Centre along of %s") },
  { N_("Centre height"), N_("Centre height of %s") },
};

static const Label body_at[3] = {
  { N_("Place across"), N_("Body place across") },
  { N_("Place forward"), N_("Body place forward") },
  { N_("Height"), N_("Body height") },
};

static const Label body_centre[3] = {
  { N_("Centre across"), N_("Body centre across") },
  { N_("Centre forward"), N_("Body centre forward") },
  { N_("Centre height"), N_("Body centre height") },
};

static const Label guide[2] = {
  { N_("Guide offset"), N_("Guide offset") },
  { N_("Guide height"), N_("Guide height") },
};

static const Label pivot[2] = {
  { N_("Pivot offset"), N_("Pivot offset") },
  { N_("Pivot height"), N_("Pivot height") },
};

static const Label lump_at[3] = {
  { N_("Place across"), N_("Place across of the weight %s") },
  { N_("Place forward"), N_("Place forward of the weight %s") },
  { N_("Height"), N_("Height of the weight %s") },
};

static const Label plate[3] = {
  { N_("Plate width"), N_("Plate width") },
  { N_("Plate depth"), N_("Plate depth") },
  { N_("Plate thickness"), N_("Plate thickness") },
};

static const Label bearing = { N_("Bearing %s"), N_("Station of bearing %s") };

static const Label stop[2] = {
  { N_("Lower stop"), N_("Lower stop of %s") },
  { N_("Upper stop"), N_("Upper stop of %s") },
};

static const Label *
find_label (const FwDesign *design, FwParam param)
{
  int c = param.component;

  switch (param.kind)
    {
    case FW_PARAM_BODY_AT:
      return &body_at[c];
    case FW_PARAM_BODY_CENTRE:
      return &body_centre[c];
    case FW_PARAM_BODY_GUIDE:
      return &guide[c];
    case FW_PARAM_BODY_PIVOT:
      return &pivot[c];
    case FW_PARAM_PANEL_HINGE:
      return &hinge[design->panels[param.index].on == FW_ON_BODY ? c : 3 + c];
    case FW_PARAM_PANEL_STOP:
      return &stop[c];
    case FW_PARAM_LUMP_AT:
      return &lump_at[c];
    case FW_PARAM_PLATE:
      return &plate[c];
    case FW_PARAM_BEARING:
      return &bearing;
    case FW_PARAM_PANEL_CENTRE:
      return &centre[c];
    case FW_PARAM_ROD_FROM:
      return &from[design->rods[param.index].from.kind != FW_FROM_PANEL ? c : 3 + c];
    case FW_PARAM_SPRING_FROM:
      return &from[design->springs[param.index].from.kind != FW_FROM_PANEL ? c : 3 + c];
    case FW_PARAM_SPRING_TO:
      return &to[design->springs[param.index].to.kind != FW_FROM_PANEL ? c : 3 + c];
    case FW_PARAM_ROD_AT:
      return &hold[c];
    default:
      return &single[param.kind];
    }
}

/* The name that goes into the gap of a full label; "" where there is none. */
static const char *
part_name (const FwDesign *design, FwParam param)
{
  switch (fw_param_owner (param))
    {
    case FW_OWNER_THROW:
      return design->crank.throws[param.index].name;
    case FW_OWNER_WEIGHT:
      return design->crank.weights[param.index].name;
    case FW_OWNER_LUMP:
      return design->body.lumps[param.index].name;
    case FW_OWNER_PANEL:
      return design->panels[param.index].name;
    case FW_OWNER_ROD:
      return design->rods[param.index].name;
    case FW_OWNER_SPRING:
      return design->springs[param.index].name;
    case FW_OWNER_CRANK:
    case FW_OWNER_BODY:
    case FW_OWNER_BASE:
    case FW_OWNER_DRIVE:
      break;
    }
  return "";
}

/* What has no name goes by its number, from 1. */
static char *
numbered (const char *label, int index)
{
  char *number = g_strdup_printf ("%d", index + 1);
  char *words = fw_fill (label, number);
  g_free (number);
  return words;
}

char *
fw_param_short_label (const FwDesign *design, FwParam param)
{
  if (param.kind == FW_PARAM_BEARING)
    return numbered (_(bearing.brief), param.index);
  return g_strdup (_(find_label (design, param)->brief));
}

char *
fw_param_label (const FwDesign *design, FwParam param)
{
  if (param.kind == FW_PARAM_BEARING)
    return numbered (_(bearing.full), param.index);
  return fw_fill (_(find_label (design, param)->full), part_name (design, param));
}

char *
fw_param_group (const FwDesign *design, FwParam param)
{
  const char *name = part_name (design, param);

  switch (fw_param_owner (param))
    {
    case FW_OWNER_CRANK:
      return g_strdup (_ ("Crank"));
    case FW_OWNER_THROW:
      return g_strdup_printf (_ ("Throw %s"), name);
    case FW_OWNER_WEIGHT:
      return g_strdup_printf (_ ("Counterweight %s"), name);
    case FW_OWNER_BODY:
      return g_strdup (_ ("Body"));
    case FW_OWNER_LUMP:
      return g_strdup_printf (_ ("Weight %s"), name);
    case FW_OWNER_PANEL:
      return g_strdup_printf (_ ("Panel %s"), name);
    case FW_OWNER_ROD:
      return g_strdup_printf (_ ("Rod %s"), name);
    case FW_OWNER_SPRING:
      return g_strdup_printf (_ ("Spring %s"), name);
    case FW_OWNER_DRIVE:
      return g_strdup (_ ("Drive and joints"));
    case FW_OWNER_BASE:
      break;
    }
  return g_strdup (_("Base"));
}
