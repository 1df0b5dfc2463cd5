#include "shop/solidparts.h"

#include <glib/gi18n.h>

static const FwFrame upright = { { 0, 0, 0 }, { 1, 0, 0 }, { 0, 1, 0 }, { 0, 0, 1 } };
/* x becomes up, y becomes x, z becomes y: on its end. */
static const FwFrame on_end = { { 0, 0, 0 }, { 0, 0, 1 }, { 1, 0, 0 }, { 0, 1, 0 } };

/* ---- Names ---- */

/* Appends a name as plain letters, figures and dashes; what is neither becomes a dash. */
static void
append_plain (GString *file, const char *name)
{
  for (const char *p = name; *p != '\0'; p++)
    if (g_ascii_isalnum (*p))
      g_string_append_c (file, g_ascii_tolower (*p));
    else if (file->len > 0 && file->str[file->len - 1] != '-')
      g_string_append_c (file, '-');
  while (file->len > 0 && file->str[file->len - 1] == '-')
    g_string_truncate (file, file->len - 1);
}

static gboolean
file_taken (const FwSolidParts *list, const char *file)
{
  for (int i = 0; i < list->n_parts; i++)
    if (g_strcmp0 (list->parts[i].file, file) == 0)
      return TRUE;
  return FALSE;
}

/* A name for its file that no part before it has. */
static char *
file_name (const FwSolidParts *list, const char *kind, const char *of, const char *which)
{
  g_autoptr (GString) file = g_string_new (kind);
  const char *const words[] = { of, which };
  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    if (words[i] != NULL)
      {
        g_string_append_c (file, '-');
        append_plain (file, words[i]);
      }
  char *unique = g_strdup (file->str);
  for (int n = 2; file_taken (list, unique); n++)
    {
      g_free (unique);
      unique = g_strdup_printf ("%s-%d", file->str, n);
    }
  return unique;
}

/* ---- Notes ---- */

/* No "-0.0". */
static double
plain_zero (double angle_deg)
{
  return fabs (angle_deg) < 0.05 ? 0 : angle_deg;
}

static char *
clamp_note (const FwMechanism *m, const FwSolidPart *part, FwLengths lengths)
{
  const FwClampSize *s = &part->as.clamp;
  const FwRod *rod = &m->design->rods[part->index];
  g_autofree char *bore = fw_units_format (s->bore_mm, FW_UNIT_MM, lengths, -1);
  g_autofree char *pin = fw_units_format (s->cross_pin_mm, FW_UNIT_MM, lengths, -1);
  g_autofree char *above = fw_units_format (s->pivot_mm, FW_UNIT_MM, lengths, -1);
  g_autoptr (GString) note = g_string_new (NULL);
  g_string_append_printf (note,
                          _ ("Turns on the pin of throw %s, bore %s; allows a lean of %.1f° to %.1f°, and "
                             "the turn needs %.1f° to %.1f°."),
                          m->design->crank.throws[rod->from.index].name, bore,
                          plain_zero (s->free_deg[0]), plain_zero (s->free_deg[1]),
                          plain_zero (s->lean_deg[0]), plain_zero (s->lean_deg[1]));
  g_string_append_c (note, ' ');
  g_string_append_printf (note,
                          s->wound ? _ ("Wind the rod's end into an eye round a pin of %s.")
                                   : _ ("Drill the rod for a cross pin of %s and round its end."),
                          pin);
  g_string_append_c (note, ' ');
  g_string_append_printf (note, _ ("The cross pin stands %s above the crank pin."), above);
  if (s->slip_mm >= 0.05)
    {
      g_autofree char *slip = fw_units_format (s->slip_mm, FW_UNIT_MM, lengths, 2);
      g_string_append_c (note, ' ');
      g_string_append_printf (
          note, _ ("Leaning there changes the rod's length between joints by %s over the turn."), slip);
    }
  g_string_append_c (note, ' ');
  g_string_append (note, s->mouth_deg > 0 ? _ ("It springs over the pin.")
                                          : _ ("Slide it on before the crank is closed."));
  if (m->design->rods[part->index].side == FW_SIDE_BOTH && m->design->crank.runs == FW_RUNS_ACROSS)
    {
      g_string_append_c (note, ' ');
      g_string_append (note, _ ("The left one is the same part turned end for end."));
    }
  return g_string_free (g_steal_pointer (&note), FALSE);
}

static char *
bushing_note (const FwBushingSize *s, FwLengths lengths)
{
  g_autofree char *bore = fw_units_format (s->bore_mm, FW_UNIT_MM, lengths, -1);
  g_autofree char *outer = fw_units_format (s->outer_mm, FW_UNIT_MM, lengths, -1);
  return g_strdup_printf (_ ("Runs on the pipe, bore %s; pressed or glued into the tee, outside %s. Measure "
                             "pipe and tee before you print: no standard fixes a fitting's inside. A tee "
                             "open at both ends takes two."),
                          bore, outer);
}

static char *
wedge_note (const FwDesign *design, const FwSolidPart *part)
{
  const FwPanel *panel = &design->panels[part->index];
  double stop = panel->stops_deg[part->nth == 0 ? 0 : 1];
  double apart = 180 - part->as.wedge.stop_deg;
  g_autoptr (GString) note = g_string_new (NULL);
  if (part->nth == 0)
    g_string_append_printf (note,
                            _ ("Stops %s at %.0f°: glued or lashed under the hinge, seats %.0f° apart."),
                            panel->name, stop, apart);
  else
    g_string_append_printf (note,
                            _ ("Stops %s at %.0f°: glued or lashed over the hinge, seats %.0f° apart."),
                            panel->name, stop, apart);
  if (part->as.wedge.hole_mm <= 0)
    {
      g_string_append_c (note, ' ');
      g_string_append (note, _ ("It is too small for a hole."));
    }
  return g_string_free (g_steal_pointer (&note), FALSE);
}

static char *
guide_note (const FwGuideSize *s, FwLengths lengths)
{
  g_autofree char *bore = fw_units_format (s->bore_mm, FW_UNIT_MM, lengths, -1);
  g_autofree char *screw = fw_units_format (s->screw_mm, FW_UNIT_MM, lengths, -1);
  if (s->swivels)
    return g_strdup_printf (_ ("The post slides in it, bore %s; it swivels on two screws that cut their "
                               "thread in holes of %s. Do not drive them home: it must turn freely."),
                            bore, screw);
  return g_strdup_printf (_ ("Runs on the rail, bore %s; held by four screws through holes of %s."), bore,
                          screw);
}

static const char *
how_it_lies (FwMadeKind kind)
{
  switch (kind)
    {
    case FW_MADE_CLAMP:
      return _ ("on one end, bore upright; no support");
    case FW_MADE_BUSHING:
      return _ ("on its flange, bore upright; no support");
    case FW_MADE_WEDGE:
      return _ ("on one end, hinge line upright; no support");
    default:
      return _ ("bore upright; no support");
    }
}

/* ---- One part ---- */

static gboolean
make_clamp (FwSolidPart *part, const FwMechanism *m, FwLengths lengths)
{
  const FwPrint *print = &m->design->print;
  if (!fw_clamp_size (m, part->index, lengths, &part->as.clamp, &part->problem))
    return FALSE;
  part->mesh = fw_clamp_mesh (&part->as.clamp, fw_print_chamfer (print, print->wall_mm));
  part->lay = on_end;
  part->note = clamp_note (m, part, lengths);
  return TRUE;
}

static gboolean
make_bushing (FwSolidPart *part, const FwMechanism *m, FwLengths lengths)
{
  if (!fw_bushing_size (m->design, lengths, &part->as.bushing, &part->problem))
    return FALSE;
  part->mesh = fw_bushing_mesh (&part->as.bushing, m->design->print.chamfer_mm);
  part->note = bushing_note (&part->as.bushing, lengths);
  return TRUE;
}

static gboolean
make_wedge (FwSolidPart *part, const FwMechanism *m, FwLengths lengths)
{
  if (!fw_wedge_size (m->design, part->index, part->nth, &part->as.wedge, &part->problem))
    return FALSE;
  part->mesh = fw_wedge_mesh (&part->as.wedge, m->design->print.chamfer_mm);
  part->note = wedge_note (m->design, part);
  return TRUE;
}

static gboolean
make_guide (FwSolidPart *part, const FwMechanism *m, FwLengths lengths)
{
  const FwPrint *print = &m->design->print;
  if (!fw_guide_size (m->design, lengths, &part->as.guide, &part->problem))
    return FALSE;
  part->mesh = fw_guide_mesh (&part->as.guide, fw_print_chamfer (print, print->wall_mm));
  part->note = guide_note (&part->as.guide, lengths);
  return TRUE;
}

static void
make (FwSolidPart *part, const FwMechanism *m, FwLengths lengths)
{
  part->lay = upright;
  gboolean sized = part->kind == FW_MADE_CLAMP     ? make_clamp (part, m, lengths)
                   : part->kind == FW_MADE_BUSHING ? make_bushing (part, m, lengths)
                   : part->kind == FW_MADE_WEDGE   ? make_wedge (part, m, lengths)
                                                   : make_guide (part, m, lengths);
  part->lie = g_strdup (how_it_lies (part->kind));
  if (!sized)
    return;
  if (part->mesh == NULL || !fw_mesh_check (part->mesh).outward)
    {
      g_clear_pointer (&part->mesh, fw_mesh_free);
      part->problem = g_strdup_printf (_ ("%s: its numbers leave no sound shape; a smaller chamfer or a "
                                          "thicker wall may help"),
                                       part->name);
      return;
    }
  FwVec3 low, high;
  g_autoptr (FwMesh) laid = fw_solid_part_laid (part);
  fw_mesh_bounds (laid, &low, &high);
  part->size_mm = fw_vec3_sub (high, low);
  part->volume_mm3 = fw_mesh_volume (part->mesh);
}

char *
fw_solid_size_words (const FwSolidPart *part, FwLengths lengths)
{
  g_autofree char *x = fw_units_format_bare (part->size_mm.x, FW_UNIT_MM, lengths, -1);
  g_autofree char *y = fw_units_format_bare (part->size_mm.y, FW_UNIT_MM, lengths, -1);
  g_autofree char *z = fw_units_format (part->size_mm.z, FW_UNIT_MM, lengths, -1);
  return g_strdup_printf ("%s\u00a0× %s\u00a0× %s", x, y, z);
}

FwMesh *
fw_solid_part_laid (const FwSolidPart *part)
{
  FwMesh *laid = fw_mesh_copy (part->mesh);
  fw_mesh_place (laid, &part->lay);
  fw_mesh_settle (laid);
  return laid;
}

/* ---- The list ---- */

typedef struct
{
  FwSolidParts *list;
  const FwMechanism *mechanism;
  const FwMadeList *letters;
  FwLengths lengths;
} Maker;

/* Takes `name` and `file`. */
static void
add (Maker *maker, FwMadeKind kind, int index, int nth, int count, char *name, char *file)
{
  FwSolidParts *list = maker->list;
  const FwMade *made
      = maker->letters == NULL ? NULL : fw_made_find (maker->letters, kind, index, nth);
  FwSolidPart part = { .kind = kind, .index = index, .nth = nth, .count = count, .name = name, .file = file };
  if (made != NULL)
    {
      part.count = made->count;
      g_strlcpy (part.letter, made->letter, sizeof part.letter);
    }
  make (&part, maker->mechanism, maker->lengths);
  list->n_problems += part.problem != NULL ? 1 : 0;
  list->parts = g_renew (FwSolidPart, list->parts, list->n_parts + 1);
  list->parts[list->n_parts++] = part;
}

static int
members_of (const FwMechanism *m, int panel)
{
  int n = 0;
  for (int i = 0; i < m->n_members; i++)
    n += m->members[i].panel == panel ? 1 : 0;
  return n;
}

static int
links_of (const FwMechanism *m, int rod)
{
  int n = 0;
  for (int i = 0; i < m->n_links; i++)
    n += m->links[i].rod == rod ? 1 : 0;
  return n;
}

static void
add_clamps (Maker *maker)
{
  const FwDesign *design = maker->mechanism->design;
  for (int i = 0; i < design->n_rods; i++)
    if (design->rods[i].from.kind == FW_FROM_THROW)
      add (maker, FW_MADE_CLAMP, i, 0, links_of (maker->mechanism, i),
           g_strdup_printf (_ ("Rod clamp of %s"), design->rods[i].name),
           file_name (maker->list, "rod-clamp", design->rods[i].name, NULL));
}

static void
add_wedges (Maker *maker)
{
  const FwDesign *design = maker->mechanism->design;
  for (int i = 0; i < design->n_panels; i++)
    for (int nth = 0; nth < 2 && design->panels[i].has_stops; nth++)
      add (maker, FW_MADE_WEDGE, i, nth, members_of (maker->mechanism, i),
           g_strdup_printf (nth == 0 ? _ ("Lower stop wedge of %s") : _ ("Upper stop wedge of %s"),
                            design->panels[i].name),
           file_name (maker->list, "stop-wedge", design->panels[i].name, nth == 0 ? "lower" : "upper"));
}

FwSolidParts *
fw_solid_parts_new (const FwMechanism *mechanism, const FwMadeList *letters, FwLengths lengths)
{
  const FwDesign *design = mechanism->design;
  FwSolidParts *list = g_new0 (FwSolidParts, 1);
  Maker maker = { list, mechanism, letters, lengths };
  double none = 0;
  add_clamps (&maker);
  if (design->crank.n_throws > 0)
    add (&maker, FW_MADE_BUSHING, 0, 0, fw_design_bearings (design, &none, 0),
         g_strdup (_ ("Bushing of the crank's bearings")), file_name (list, "bushing", NULL, NULL));
  add_wedges (&maker);
  if (design->body.ride == FW_RIDE_SLEEVE)
    add (&maker, FW_MADE_GUIDE, 0, 0, 1, g_strdup (_ ("Swivelling guide of the post")),
         file_name (list, "post-guide", NULL, NULL));
  if (design->body.ride == FW_RIDE_RAIL)
    add (&maker, FW_MADE_GUIDE, 0, 0, 1, g_strdup (_ ("Straight guide of the rail")),
         file_name (list, "post-guide", NULL, NULL));
  return list;
}

void
fw_solid_parts_free (FwSolidParts *list)
{
  if (list == NULL)
    return;
  for (int i = 0; i < list->n_parts; i++)
    {
      FwSolidPart *part = &list->parts[i];
      g_free (part->name);
      g_free (part->file);
      g_free (part->note);
      g_free (part->lie);
      g_free (part->problem);
      fw_mesh_free (part->mesh);
    }
  g_free (list->parts);
  g_free (list);
}
