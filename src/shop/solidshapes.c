/* Bushing, stop wedge and post guide. */
#include "shop/solidparts.h"

#include <glib/gi18n.h>

#include "shop/meshform.h"

#define TO_DEG (180 / G_PI)
#define WEDGE_POINTS 8
#define MOST_CLOSING_DEG 150.0 /* a wedge would be a sliver of less than 30 degrees */
#define MOST_OPENING_DEG 80.0

double
fw_crank_pipe (const FwCrank *crank)
{
  return crank->build.pipe_mm > 0 ? crank->build.pipe_mm : crank->diameter_mm;
}

double
fw_print_chamfer (const FwPrint *print, double wall_mm)
{
  return fmin (print->chamfer_mm, 0.3 * wall_mm);
}

static char *
bad_chamfer (const FwPrint *print, const char *part, double wall_mm, FwLengths lengths)
{
  if (print->chamfer_mm < wall_mm)
    return NULL;
  g_autofree char *chamfer = fw_units_format (print->chamfer_mm, FW_UNIT_MM, lengths, -1);
  g_autofree char *wall = fw_units_format (wall_mm, FW_UNIT_MM, lengths, -1);
  return g_strdup_printf (_ ("%s: a chamfer of %s takes away a wall of %s"), part, chamfer, wall);
}

/* ---- Bushing ---- */

/* Common tube fittings: inside of the cup, and its depth, inches: outside of the copper water tube
 * (ASTM B88) and the clearance usual for solder. No standard fixes what a given maker sells: they are
 * a start, to be measured. */
static const double tees_in[][2] = { { 0.381, 0.31 }, { 0.506, 0.38 }, { 0.631, 0.50 },
                                     { 0.756, 0.62 }, { 0.881, 0.75 }, { 1.132, 0.91 } };

static void
choose_tee (const FwPrint *print, double pipe, double *bore, double *depth)
{
  double least = pipe + print->fit_mm + print->wall_mm + print->tight_mm;
  *bore = print->tee_bore_mm;
  *depth = print->tee_depth_mm;
  for (gsize i = 0; i < G_N_ELEMENTS (tees_in); i++)
    {
      double here = tees_in[i][0] * 25.4;
      if (*bore <= 0 && here >= least)
        *bore = here;
      if (*depth <= 0 && *bore > 0 && here >= *bore - 0.5)
        *depth = tees_in[i][1] * 25.4;
    }
  if (*depth <= 0)
    *depth = 0.8 * *bore; /* as the largest of the table has it */
}

gboolean
fw_bushing_size (const FwDesign *design, FwLengths lengths, FwBushingSize *size, char **problem)
{
  const FwPrint *print = &design->print;
  double pipe = fw_crank_pipe (&design->crank), bore, depth;
  choose_tee (print, pipe, &bore, &depth);
  g_autofree char *thick = fw_units_format (pipe, FW_UNIT_MM, lengths, -1);
  if (bore <= 0)
    {
      *problem = g_strdup_printf (_ ("Bushing: no common tee has room for a bushing round a pipe of %s; "
                                     "measure one and give print.tee_bore"),
                                  thick);
      return FALSE;
    }
  FwBushingSize s = { .bore_mm = pipe + print->fit_mm, .outer_mm = bore - print->tight_mm };
  double wall = (s.outer_mm - s.bore_mm) / 2;
  if (wall < print->wall_mm / 2 - 1e-9)
    {
      g_autofree char *tee = fw_units_format (bore, FW_UNIT_MM, lengths, -1);
      g_autofree char *left = fw_units_format (fmax (wall, 0), FW_UNIT_MM, lengths, 2);
      g_autofree char *least = fw_units_format (print->wall_mm / 2, FW_UNIT_MM, lengths, 2);
      *problem = wall <= 0
                     ? g_strdup_printf (_ ("Bushing: a pipe of %s with its running fit does not go into a "
                                           "tee of %s"),
                                        thick, tee)
                     : g_strdup_printf (_ ("Bushing: between a pipe of %s and a tee of %s a wall of %s "
                                           "is left, and at least %s is needed"),
                                        thick, tee, left, least);
      return FALSE;
    }
  *problem = bad_chamfer (print, _ ("Bushing"), wall, lengths);
  if (*problem != NULL)
    return FALSE;
  s.flange_mm = bore + 2 * fmax (1, print->wall_mm / 2);
  s.flange_thick_mm = fmax (1, print->wall_mm / 2);
  s.length_mm = depth + s.flange_thick_mm;
  *size = s;
  return TRUE;
}

FwMesh *
fw_bushing_mesh (const FwBushingSize *s, double chamfer_mm)
{
  double bore = fw_bore_corner (s->bore_mm / 2, fw_facets (s->flange_mm / 2));
  double outer = s->outer_mm / 2, flange = s->flange_mm / 2;
  double c = fmin (chamfer_mm, 0.3 * (outer - bore)), top = s->length_mm;
  double rim = fmin (c, 0.4 * s->flange_thick_mm);
  FwVec2 profile[16] = { { bore + c, 0 } };
  int n = 1;
  profile[n++] = (FwVec2){ flange - rim, 0 };
  if (rim > 0)
    profile[n++] = (FwVec2){ flange, rim };
  profile[n++] = (FwVec2){ flange, s->flange_thick_mm };
  profile[n++] = (FwVec2){ outer, s->flange_thick_mm };
  profile[n++] = (FwVec2){ outer, top - c };
  if (c > 0)
    profile[n++] = (FwVec2){ outer - c, top };
  profile[n++] = (FwVec2){ bore + c, top };
  if (c > 0)
    {
      profile[n++] = (FwVec2){ bore, top - c };
      profile[n++] = (FwVec2){ bore, c };
    }
  FwMesh *mesh = fw_mesh_new ();
  fw_mesh_lathe (mesh, profile, n, fw_facets (flange));
  return mesh;
}

/* ---- Stop wedge ---- */

gboolean
fw_wedge_size (const FwDesign *design, int index, int nth, FwWedgeSize *size, char **problem)
{
  const FwPanel *panel = &design->panels[index];
  const FwPrint *print = &design->print;
  double stop = nth == 0 ? -panel->stops_deg[0] : panel->stops_deg[1];
  if (stop > MOST_CLOSING_DEG || stop < -MOST_OPENING_DEG)
    {
      *problem = g_strdup_printf (_ ("Stop wedge of %s: a stop at %.0f° leaves no shape for a wedge, only "
                                     "%.0f° to %.0f° does; use a cord"),
                                  panel->name, nth == 0 ? -stop : stop,
                                  nth == 0 ? -MOST_CLOSING_DEG : -MOST_OPENING_DEG,
                                  nth == 0 ? MOST_OPENING_DEG : MOST_CLOSING_DEG);
      return FALSE;
    }
  FwWedgeSize s = { .stop_deg = stop };
  s.reach_mm = CLAMP (fmax (0.08 * panel->span_mm, 4 * panel->thickness_mm), 8, 20);
  s.length_mm = CLAMP (0.75 * s.reach_mm, 8, 15);
  s.relief_mm = stop < 5 ? 0 : fmin (1 + panel->thickness_mm / 2, 0.25 * s.reach_mm);
  if (2 * print->chamfer_mm >= 0.5 * s.reach_mm)
    {
      *problem = g_strdup_printf (_ ("Stop wedge of %s: the chamfer is larger than the wedge allows"),
                                  panel->name);
      return FALSE;
    }
  /* A hole along the hinge line to lash or pin it, where half a wall is left round it. */
  double half = (180 - stop) / TO_DEG / 2, out = 0.52 * s.reach_mm;
  double room = fmin (half < G_PI / 2 ? out * sin (half) : out,
                      s.reach_mm * cos (half / 3) - out);
  double radius = (print->screw_mm + print->fit_mm) / 2;
  if (room - radius >= fmax (0.5 * print->wall_mm, print->chamfer_mm + 0.4))
    s.hole_mm = 2 * radius;
  *size = s;
  return TRUE;
}

int
fw_wedge_outline (const FwWedgeSize *s, FwVec2 out[8])
{
  double from = s->stop_deg / TO_DEG;
  int n = 0;
  out[n++] = (FwVec2){ s->relief_mm * cos (from), s->relief_mm * sin (from) };
  for (int i = 0; i <= 3; i++)
    {
      double angle = from + (G_PI - from) * i / 3;
      out[n++] = (FwVec2){ s->reach_mm * cos (angle), i == 3 ? 0 : s->reach_mm * sin (angle) };
    }
  if (s->relief_mm > 0)
    out[n++] = (FwVec2){ -s->relief_mm, 0 };
  return n;
}

/* The middle of its hole, mm. */
static FwVec2
wedge_hole (const FwWedgeSize *s)
{
  double middle = (G_PI + s->stop_deg / TO_DEG) / 2, out = 0.52 * s->reach_mm;
  // cppcheck-suppress ignoredReturnValue ; a part of the point
  return (FwVec2){ out * cos (middle), out * sin (middle) };
}

FwMesh *
fw_wedge_mesh (const FwWedgeSize *s, double chamfer_mm)
{
  const FwFrame frame = { { 0, 0, 0 }, { 1, 0, 0 }, { 0, 1, 0 }, { 0, 0, 1 } };
  g_autoptr (FwMesh) mesh = fw_mesh_new ();
  FwVec2 outline[WEDGE_POINTS];
  FwPrism body;
  FwBore hole = { .n = 0 };
  int n = fw_wedge_outline (s, outline), loops = s->hole_mm > 0 ? 2 : 1;
  if (!fw_mesh_prism (mesh, &frame, outline, n, s->length_mm, chamfer_mm, FALSE, NULL, &body))
    return NULL;
  FwVec2 at = wedge_hole (s);
  if (loops == 2)
    fw_mesh_bore (mesh, fw_vec3 (at.x, at.y, 0), fw_vec3 (at.x, at.y, s->length_mm), fw_vec3 (1, 0, 0),
                  s->hole_mm / 2, chamfer_mm, chamfer_mm, &hole);
  const int sizes[2] = { n, hole.n };
  if (!fw_mesh_face (mesh, fw_vec3 (0, 0, -1), (const int *const[]){ body.rings[0], hole.from }, sizes,
                     loops)
      || !fw_mesh_face (mesh, fw_vec3 (0, 0, 1), (const int *const[]){ body.rings[3], hole.to }, sizes,
                        loops))
    return NULL;
  return g_steal_pointer (&mesh);
}

/* ---- Post guide ---- */

static FwGuideSize
swivel (const FwPrint *print, double post)
{
  FwGuideSize s = { .swivels = TRUE, .bore_mm = post + print->fit_mm };
  s.height_mm = fmax (2.5 * post, 8);
  s.screw_mm = 0.85 * print->screw_mm; /* a screw cuts its own thread in it */
  s.screw_deep_mm = fmax (2 * print->screw_mm, 4);
  s.half_x_mm = s.bore_mm / 2 + print->wall_mm / 2 + s.screw_deep_mm;
  s.half_y_mm = fmax (s.bore_mm / 2, s.screw_mm / 2 + print->chamfer_mm) + print->wall_mm;
  return s;
}

static FwGuideSize
straight (const FwPrint *print, double post)
{
  FwGuideSize s = { .bore_mm = post + print->fit_mm };
  s.height_mm = fmax (2.5 * post, 8);
  s.boss_mm = s.bore_mm + 2 * print->wall_mm;
  s.flange_thick_mm = fmin (print->wall_mm, 0.4 * s.height_mm);
  s.screw_mm = print->screw_mm + print->fit_mm;
  double room = s.screw_mm / 2 + print->wall_mm;
  s.screw_at_mm[0] = s.boss_mm / 2 + room;
  s.screw_at_mm[1] = fmax (s.boss_mm - s.screw_mm, s.screw_mm + print->wall_mm + 2 * print->chamfer_mm) / 2;
  s.half_x_mm = s.screw_at_mm[0] + room;
  s.half_y_mm = s.screw_at_mm[1] + room;
  return s;
}

gboolean
fw_guide_size (const FwDesign *design, FwLengths lengths, FwGuideSize *size, char **problem)
{
  const FwPrint *print = &design->print;
  FwGuideSize s = design->body.ride == FW_RIDE_SLEEVE ? swivel (print, design->body.diameter_mm)
                                                     : straight (print, design->body.diameter_mm);
  *problem = bad_chamfer (print, _ ("Post guide"), print->wall_mm, lengths);
  if (*problem != NULL)
    return FALSE;
  double tall = s.screw_mm + 2 * print->wall_mm;
  if (s.swivels && s.height_mm < tall)
    s.height_mm = tall;
  *size = s;
  return TRUE;
}

/* A rectangle with its corners cut off. Its edges 1 and 5 face +x and -x. */
static void
block_outline (double half_x, double half_y, double cut, FwVec2 out[8])
{
  const FwVec2 points[8] = { { half_x - cut, -half_y }, { half_x, cut - half_y },
                             { half_x, half_y - cut },  { half_x - cut, half_y },
                             { cut - half_x, half_y },  { -half_x, half_y - cut },
                             { -half_x, cut - half_y }, { cut - half_x, -half_y } };
  for (int i = 0; i < 8; i++)
    out[i] = points[i];
}

/* A blind hole from the face at x = side half_x inwards, with a flat end. */
static void
add_blind (FwMesh *mesh, const FwGuideSize *s, int side, double chamfer, FwBore *hole)
{
  double z = s->height_mm / 2;
  fw_mesh_bore (mesh, fw_vec3 (side * s->half_x_mm, 0, z),
                fw_vec3 (side * (s->half_x_mm - s->screw_deep_mm), 0, z), fw_vec3 (0, 0, 1),
                s->screw_mm / 2, chamfer, 0, hole);
  fw_mesh_face (mesh, fw_vec3 (side, 0, 0), (const int *const[]){ hole->to }, (const int[]){ hole->n },
                1);
}

static FwMesh *
swivel_mesh (const FwGuideSize *s, double chamfer)
{
  const FwFrame frame = { { 0, 0, 0 }, { 1, 0, 0 }, { 0, 1, 0 }, { 0, 0, 1 } };
  const gboolean open[8] = { [1] = TRUE, [5] = TRUE };
  g_autoptr (FwMesh) mesh = fw_mesh_new ();
  FwVec2 outline[8];
  FwPrism body;
  FwBore bore, screw;
  double small = fmin (chamfer, 0.2 * s->screw_mm);
  double spare = s->half_y_mm - s->screw_mm / 2 - small;
  block_outline (s->half_x_mm, s->half_y_mm, fmin (0.35 * s->half_y_mm, 0.6 * spare), outline);
  if (!fw_mesh_prism (mesh, &frame, outline, 8, s->height_mm, chamfer, FALSE, open, &body))
    return NULL;
  fw_mesh_bore (mesh, fw_vec3 (0, 0, 0), fw_vec3 (0, 0, s->height_mm), fw_vec3 (1, 0, 0),
                s->bore_mm / 2, chamfer, chamfer, &bore);
  const int sizes[2] = { 8, bore.n };
  gboolean good = fw_mesh_face (mesh, fw_vec3 (0, 0, -1),
                                (const int *const[]){ body.rings[0], bore.from }, sizes, 2)
                  && fw_mesh_face (mesh, fw_vec3 (0, 0, 1),
                                   (const int *const[]){ body.rings[3], bore.to }, sizes, 2);
  for (int side = -1; side <= 1 && good; side += 2)
    {
      int edge = side > 0 ? 1 : 5;
      add_blind (mesh, s, side, small, &screw);
      const int face[4] = { body.rings[1][edge], body.rings[1][edge + 1], body.rings[2][edge + 1],
                            body.rings[2][edge] };
      good = fw_mesh_face (mesh, fw_vec3 (side, 0, 0), (const int *const[]){ face, screw.from },
                           (const int[]){ 4, screw.n }, 2);
    }
  return good ? g_steal_pointer (&mesh) : NULL;
}

/* The boss above the flange: its foot is a hole in the flange's upper face. */
static gboolean
add_boss (FwMesh *mesh, const FwGuideSize *s, double chamfer, const FwBore *bore, int *foot, int *n)
{
  const FwVec3 x = { 1, 0, 0 }, y = { 0, 1, 0 };
  double r = s->boss_mm / 2;
  int shoulder[FW_MOST_FACETS], top[FW_MOST_FACETS];
  *n = fw_facets (r);
  fw_mesh_ring (mesh, fw_vec3 (0, 0, s->flange_thick_mm), x, y, r, *n, foot);
  fw_mesh_ring (mesh, fw_vec3 (0, 0, s->height_mm - chamfer), x, y, r, *n, shoulder);
  fw_mesh_band (mesh, foot, shoulder, *n);
  const int *rim = shoulder;
  if (chamfer > 0)
    {
      fw_mesh_ring (mesh, fw_vec3 (0, 0, s->height_mm), x, y, r - chamfer, *n, top);
      fw_mesh_band (mesh, shoulder, top, *n);
      rim = top;
    }
  return fw_mesh_face (mesh, fw_vec3 (0, 0, 1), (const int *const[]){ rim, bore->to },
                       (const int[]){ *n, bore->n }, 2);
}

static FwMesh *
straight_mesh (const FwGuideSize *s, double chamfer)
{
  const FwFrame frame = { { 0, 0, 0 }, { 1, 0, 0 }, { 0, 1, 0 }, { 0, 0, 1 } };
  g_autoptr (FwMesh) mesh = fw_mesh_new ();
  FwVec2 outline[8];
  FwPrism flange;
  FwBore bore, screws[4];
  int foot[FW_MOST_FACETS], n_foot;
  double rim = fmin (chamfer, 0.3 * s->flange_thick_mm);
  block_outline (s->half_x_mm, s->half_y_mm, 0.6 * (s->half_x_mm - s->screw_at_mm[0]), outline);
  if (!fw_mesh_prism (mesh, &frame, outline, 8, s->flange_thick_mm, rim, FALSE, NULL, &flange))
    return NULL;
  fw_mesh_bore (mesh, fw_vec3 (0, 0, 0), fw_vec3 (0, 0, s->height_mm), fw_vec3 (1, 0, 0),
                s->bore_mm / 2, chamfer, chamfer, &bore);
  if (!add_boss (mesh, s, chamfer, &bore, foot, &n_foot))
    return NULL;
  const int *low[6] = { flange.rings[0], bore.from }, *high[6] = { flange.rings[3], foot };
  int low_n[6] = { 8, bore.n }, high_n[6] = { 8, n_foot };
  for (int i = 0; i < 4; i++)
    {
      FwVec3 at = fw_vec3 ((i & 1 ? 1 : -1) * s->screw_at_mm[0], (i & 2 ? 1 : -1) * s->screw_at_mm[1], 0);
      fw_mesh_bore (mesh, at, fw_vec3 (at.x, at.y, s->flange_thick_mm), fw_vec3 (1, 0, 0),
                    s->screw_mm / 2, rim, rim, &screws[i]);
      low[2 + i] = screws[i].from;
      high[2 + i] = screws[i].to;
      low_n[2 + i] = high_n[2 + i] = screws[i].n;
    }
  if (!fw_mesh_face (mesh, fw_vec3 (0, 0, -1), low, low_n, 6)
      || !fw_mesh_face (mesh, fw_vec3 (0, 0, 1), high, high_n, 6))
    return NULL;
  return g_steal_pointer (&mesh);
}

FwMesh *
fw_guide_mesh (const FwGuideSize *s, double chamfer_mm)
{
  return s->swivels ? swivel_mesh (s, chamfer_mm) : straight_mesh (s, chamfer_mm);
}
