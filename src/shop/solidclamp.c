/* The rod clamp: turns on the crank's pin, and lets the rod lean between its cheeks. */
#include "shop/solidparts.h"

#include <glib/gi18n.h>

#include "shop/meshform.h"

#define STEPS 720
#define FEW_STEPS 72
#define MOST_LEAN_DEG 70.0  /* to either side: beyond, the cheeks would lie flat */
#define DRILLED_MM 2.5      /* a thinner rod is wound into an eye instead of drilled */
#define MOUTH_DEG 58.0      /* half the opening of one that springs on: it passes 0.85 of the pin */
#define LEAST_LIGHT_MM 0.3  /* between a hole and the rim of the face that it is in */
#define TO_DEG (180 / G_PI)

/* ---- How the rod leans ---- */

/* Offset of the rod's upper end along the crank axis from its lower one, over the turn. */
static gboolean
offsets (const FwMechanism *m, int rod, int steps, double range[2])
{
  FwPose *pose = fw_pose_new (m);
  FwVec3 axis = fw_crank_axis (m->design->crank.runs);
  gboolean found = FALSE;
  for (int i = 0; pose != NULL && i < steps; i++)
    {
      fw_pose_solve (pose, m, 2 * G_PI * i / steps);
      for (int k = 0; k < m->n_links; k++)
        {
          const FwLink *link = &m->links[k];
          if (link->rod != rod || isnan (fw_pose_lean (pose, m, k)))
            continue;
          double x = fw_vec3_dot (fw_vec3_sub (pose->links[k].to.at, pose->links[k].from.at), axis);
          if (link->left && m->design->crank.runs == FW_RUNS_ACROSS)
            x = -x;
          range[0] = found ? fmin (range[0], x) : x;
          range[1] = found ? fmax (range[1], x) : x;
          found = TRUE;
        }
    }
  free (pose);
  return found;
}

/* Crank pin to upper joint, for a rod that starts `pivot` above the pin and reaches x aside. */
static double
reach (double length, double pivot, double x)
{
  double rest = length - pivot;
  return hypot (x, pivot + sqrt (fmax (rest * rest - x * x, 0)));
}

static gboolean
lean_over (const FwMechanism *m, int rod, int steps, double pivot_mm, double lean_deg[2], double *slip_mm)
{
  double range[2], length = m->design->rods[rod].length_mm, rest = length - pivot_mm;
  if (rest <= 0 || !offsets (m, rod, steps, range))
    return FALSE;
  for (int i = 0; i < 2; i++)
    lean_deg[i] = asin (CLAMP (range[i] / rest, -1, 1)) * TO_DEG;
  double nearest = range[0] > 0 ? range[0] : range[1] < 0 ? range[1] : 0;
  double farthest = fmax (fabs (range[0]), fabs (range[1]));
  *slip_mm = reach (length, pivot_mm, nearest) - reach (length, pivot_mm, farthest);
  return TRUE;
}

gboolean
fw_clamp_lean (const FwMechanism *m, int rod, double pivot_mm, double lean_deg[2], double *slip_mm)
{
  return lean_over (m, rod, STEPS, pivot_mm, lean_deg, slip_mm);
}

/* ---- Sizes ---- */

/* Rods, and the post, that share the pin of this rod; the most of its twins'. */
static int
sharers (const FwMechanism *m, int rod)
{
  int most = 1;
  for (int k = 0; k < m->n_links; k++)
    {
      int on_pin = m->body_pin == m->links[k].index ? 1 : 0;
      if (m->links[k].rod != rod)
        continue;
      for (int j = 0; j < m->n_links; j++)
        if (m->links[j].from == FW_FROM_THROW && m->links[j].index == m->links[k].index)
          on_pin++;
      most = MAX (most, on_pin);
    }
  return most;
}

/* How far the wall of the slot stands out at `up` above the cross pin, for a lean toward it. */
static double
wall_at (double eye, double up, double lean_deg)
{
  double lean = lean_deg / TO_DEG;
  return fmax ((eye + up * sin (lean)) / cos (lean), eye);
}

/* Half the width that cheeks of this height need. */
static double
half_needed (const FwClampSize *s, const FwPrint *print, double up)
{
  double right = wall_at (s->eye_mm, up, s->free_deg[1]);
  double left = wall_at (s->eye_mm, up, -s->free_deg[0]);
  return fmax (fmax (right, left) + print->wall_mm, 0.4 * s->bore_mm);
}

static void
size_round_the_rod (const FwDesign *design, const FwRod *rod, FwClampSize *s)
{
  const FwPrint *print = &design->print;
  double d = rod->diameter_mm;
  s->wound = d < DRILLED_MM;
  s->stem_mm = d / 2;
  s->cross_pin_mm = print->pin_mm > 0 ? print->pin_mm
                    : s->wound        ? fmax (1, d)
                                      : floor (d) / 2;
  s->cross_mm = s->cross_pin_mm + print->fit_mm / 2;
  s->eye_mm = (s->wound ? s->cross_pin_mm / 2 + d : d / 2) + print->fit_mm / 2;
  s->slot_mm = (s->wound ? 2 * d : d) + print->fit_mm;
  s->bore_mm = fw_crank_pipe (&design->crank) + print->fit_mm;
  s->outer_mm = fmax (s->bore_mm, s->slot_mm) / 2 + print->wall_mm;
  s->pivot_mm = s->bore_mm / 2 + print->wall_mm + s->eye_mm;
  s->mouth_deg = design->crank.build.open_eyes ? MOUTH_DEG : 0;
}

/* The part's height and width for the room it has. FALSE: it needs more. */
static gboolean
fit_the_throw (const FwPrint *print, double rod_mm, FwClampSize *s)
{
  double least = s->cross_mm / 2 + fmax (print->wall_mm, fw_print_chamfer (print, print->wall_mm) + 1);
  double wish = fmax (least, 2.5 * rod_mm), up = wish;
  for (int i = 0; i <= 40 && half_needed (s, print, up) > s->room_mm / 2; i++)
    up = wish + (least - wish) * i / 40;
  s->top_mm = s->pivot_mm + up;
  s->width_mm = 2 * half_needed (s, print, up);
  return s->width_mm <= s->room_mm * (1 + 1e-12);
}

/* What of the throw's clear width there is for this one, and no more than the design lets it have. */
static double
room_for (const FwMechanism *m, int index)
{
  const FwDesign *design = m->design;
  double share = (design->crank.throws[design->rods[index].from.index].width_mm - design->print.end_play_mm)
                 / sharers (m, index);
  const FwCrankBuild *build = &design->crank.build;
  return build->clamp_given ? fmin (share, build->clamp_mm) : share;
}

static char *
too_narrow (const FwMechanism *m, const FwRod *rod, const FwClampSize *s, int sharing, FwLengths lengths)
{
  const FwThrow *throw = &m->design->crank.throws[rod->from.index];
  g_autofree char *room = fw_units_format (s->room_mm, FW_UNIT_MM, lengths, -1);
  g_autofree char *need = fw_units_format (s->width_mm, FW_UNIT_MM, lengths, -1);
  double most = fmax (fabs (s->free_deg[0]), fabs (s->free_deg[1]));
  const FwCrankBuild *build = &m->design->crank.build;
  if (build->clamp_given && s->room_mm >= build->clamp_mm)
    return g_strdup_printf (_ ("Rod clamp of %s: crank.build.clamp leaves it %s, and a lean of %.1f° with its "
                               "margin needs %s; make clamp longer, or lean the rod less"),
                            rod->name, room, most, need);
  if (sharing > 1)
    return g_strdup_printf (
        _ ("Rod clamp of %s: throw %s has %s for each of the %d parts on it, and a lean of %.1f° with its "
           "margin needs %s; widen the throw, or lean the rod less"),
        rod->name, throw->name, room, sharing, most, need);
  return g_strdup_printf (_ ("Rod clamp of %s: throw %s has room for %s, and a lean of %.1f° with its "
                             "margin needs %s; widen the throw, or lean the rod less"),
                          rod->name, throw->name, room, most, need);
}

/* What cannot be, before the turn is looked at. */
static char *
bad_numbers (const FwDesign *design, const FwRod *rod, const FwClampSize *s, FwLengths lengths)
{
  const FwPrint *print = &design->print;
  g_autofree char *wall = fw_units_format (print->wall_mm, FW_UNIT_MM, lengths, -1);
  if (print->chamfer_mm >= print->wall_mm)
    {
      g_autofree char *chamfer = fw_units_format (print->chamfer_mm, FW_UNIT_MM, lengths, -1);
      return g_strdup_printf (_ ("Rod clamp of %s: a chamfer of %s takes away a wall of %s"), rod->name,
                              chamfer, wall);
    }
  double room = s->wound ? 2 * s->eye_mm : rod->diameter_mm - 2 * LEAST_LIGHT_MM;
  if (s->cross_mm >= room)
    {
      g_autofree char *pin = fw_units_format (s->cross_mm, FW_UNIT_MM, lengths, -1);
      g_autofree char *thick = fw_units_format (rod->diameter_mm, FW_UNIT_MM, lengths, -1);
      return g_strdup_printf (_ ("Rod clamp of %s: a hole of %s for its cross pin cannot go through a "
                                 "rod of %s"),
                              rod->name, pin, thick);
    }
  if (rod->length_mm <= s->pivot_mm)
    return g_strdup_printf (_ ("Rod clamp of %s: the rod is shorter than the clamp is high"), rod->name);
  return NULL;
}

gboolean
fw_clamp_size (const FwMechanism *m, int index, FwLengths lengths, FwClampSize *out, char **problem)
{
  const FwDesign *design = m->design;
  const FwRod *rod = &design->rods[index];
  const FwPrint *print = &design->print;
  FwClampSize s = { 0 };
  size_round_the_rod (design, rod, &s);
  *problem = bad_numbers (design, rod, &s, lengths);
  if (*problem != NULL)
    return FALSE;
  if (!fw_clamp_lean (m, index, s.pivot_mm, s.lean_deg, &s.slip_mm))
    {
      *problem = g_strdup_printf (_ ("Rod clamp of %s: the rod can be assembled nowhere in the turn, so "
                                     "its lean is not known"),
                                  rod->name);
      return FALSE;
    }
  s.free_deg[0] = s.lean_deg[0] - print->lean_margin_deg;
  s.free_deg[1] = s.lean_deg[1] + print->lean_margin_deg;
  if (s.free_deg[0] < -MOST_LEAN_DEG || s.free_deg[1] > MOST_LEAN_DEG)
    {
      *problem = g_strdup_printf (_ ("Rod clamp of %s: it would have to allow a lean of %.0f°, and cheeks "
                                     "can allow %.0f°; use a ball joint"),
                                  rod->name, fmax (-s.free_deg[0], s.free_deg[1]), MOST_LEAN_DEG);
      return FALSE;
    }
  s.room_mm = room_for (m, index);
  if (!fit_the_throw (print, rod->diameter_mm, &s))
    {
      *problem = too_narrow (m, rod, &s, sharers (m, index), lengths);
      return FALSE;
    }
  *out = s;
  return TRUE;
}

double
fw_clamp_width (const FwMechanism *m, int index)
{
  const FwRod *rod = &m->design->rods[index];
  const FwPrint *print = &m->design->print;
  FwClampSize s = { 0 };
  size_round_the_rod (m->design, rod, &s);
  if (!(rod->diameter_mm > 0) || !lean_over (m, index, FEW_STEPS, s.pivot_mm, s.lean_deg, &s.slip_mm))
    return 0;
  s.free_deg[0] = s.lean_deg[0] - print->lean_margin_deg;
  s.free_deg[1] = s.lean_deg[1] + print->lean_margin_deg;
  if (s.free_deg[0] < -MOST_LEAN_DEG || s.free_deg[1] > MOST_LEAN_DEG)
    return 0;
  s.room_mm = room_for (m, index);
  fit_the_throw (print, rod->diameter_mm, &s);
  return s.width_mm;
}

/* ---- Mesh ---- */

/* The side of it, seen along the crank axis: y, z. Edges 0, 2 and 4 are its right, upper and left face. */
static int
side_outline (const FwClampSize *s, double chamfer, FwVec2 *out)
{
  double half = s->outer_mm, top = s->top_mm, cut = fmax (chamfer, 0.05 * half);
  int n = 0, facets = fw_facets (half), arc = facets / 2;
  out[n++] = (FwVec2){ half, 0 };
  out[n++] = (FwVec2){ half, top - cut };
  out[n++] = (FwVec2){ half - cut, top };
  out[n++] = (FwVec2){ cut - half, top };
  out[n++] = (FwVec2){ -half, top - cut };
  out[n++] = (FwVec2){ -half, 0 };
  double mouth = s->mouth_deg / TO_DEG, quarter = G_PI / 2 - mouth;
  if (mouth <= 0)
    {
      for (int i = 1; i < arc; i++)
        out[n++] = (FwVec2){ -half * cos (G_PI * i / arc), -half * sin (G_PI * i / arc) };
      return n;
    }
  /* Round to the mouth, back along the bore, and round from the mouth's other lip; no flat so short that
   * the chamfer of a lip would take it. */
  int few = CLAMP ((int)(quarter * half / fmax (3 * chamfer, 0.1)), 1, 6);
  for (int i = 1; i <= few; i++)
    out[n++] = (FwVec2){ -half * cos (quarter * i / few), -half * sin (quarter * i / few) };
  double sweep = 2 * (G_PI - mouth), first = -G_PI / 2 - mouth;
  int most = (int)(sweep * s->bore_mm / 2 / fmax (1.5 * chamfer, 0.05));
  int steps = CLAMP (fw_facets (s->bore_mm / 2) * 3 / 4, 8, MAX (most, 8));
  double corner = s->bore_mm / 2 / cos (sweep / steps / 2);
  for (int i = 0; i <= steps; i++)
    {
      double angle = first - sweep * i / steps;
      // cppcheck-suppress ignoredReturnValue ; a part of the point
      out[n++] = (FwVec2){ corner * cos (angle), corner * sin (angle) };
    }
  for (int i = few; i >= 1; i--)
    // cppcheck-suppress ignoredReturnValue ; a part of the point
    out[n++] = (FwVec2){ half * cos (quarter * i / few), -half * sin (quarter * i / few) };
  return n;
}

/* The slot in which the rod leans, seen along the cross pin: x, z, from its left rim down, round the eye
 * and up to its right rim. */
static int
slot_line (const FwClampSize *s, FwVec2 *out)
{
  double left = s->free_deg[0] / TO_DEG, right = s->free_deg[1] / TO_DEG;
  double up = s->top_mm - s->pivot_mm, from = G_PI - left, to = 2 * G_PI - right;
  int n = 0, arc = MAX (6, fw_facets (s->eye_mm) / 2);
  /* Flats on the eye's circle, so that the rod's round end clears them: the corner radius is a
   * little more, but first and last corner are where the straight walls touch. */
  out[n++] = (FwVec2){ (up * sin (left) - s->eye_mm) / cos (left), s->top_mm };
  double step = (to - from) / arc, corner = s->eye_mm / cos (step / 2);
  for (int i = 0; i < arc; i++)
    {
      double angle = from + step * (i + 0.5);
      // cppcheck-suppress ignoredReturnValue ; a part of the point
      out[n++] = (FwVec2){ corner * cos (angle), s->pivot_mm + corner * sin (angle) };
    }
  out[n++] = (FwVec2){ (up * sin (right) + s->eye_mm) / cos (right), s->top_mm };
  return n;
}

typedef struct
{
  int n;
  int line[2][FW_MOST_PROFILE]; /* at y = -slot/2 and +slot/2 */
} Slot;

static void
add_slot (FwMesh *mesh, const FwClampSize *s, Slot *slot)
{
  FwVec2 line[FW_MOST_PROFILE];
  slot->n = slot_line (s, line);
  for (int side = 0; side < 2; side++)
    for (int i = 0; i < slot->n; i++)
      slot->line[side][i] = fw_mesh_point (
          mesh, fw_vec3 (line[i].x, (side == 0 ? -0.5 : 0.5) * s->slot_mm, line[i].y));
  for (int i = 0; i + 1 < slot->n; i++)
    {
      int a = slot->line[0][i], b = slot->line[0][i + 1], c = slot->line[1][i + 1], d = slot->line[1][i];
      fw_mesh_triangle (mesh, a, b, c);
      fw_mesh_triangle (mesh, a, c, d);
    }
}

/* The cheek on one side: its outer face, its inner face, and the cross pin's hole through it. */
static gboolean
add_cheek (FwMesh *mesh, const FwClampSize *s, const FwPrism *body, const Slot *slot, int side,
           double chamfer)
{
  double sign = side == 0 ? -1 : 1;
  int edge = side == 0 ? 4 : 0;
  FwBore cross;
  fw_mesh_bore (mesh, fw_vec3 (0, sign * s->outer_mm, s->pivot_mm),
                fw_vec3 (0, sign * s->slot_mm / 2, s->pivot_mm), fw_vec3 (1, 0, 0), s->cross_mm / 2,
                fmin (chamfer, 0.5 * s->cross_mm), 0, &cross);
  const int outer[4] = { body->rings[1][edge], body->rings[1][edge + 1], body->rings[2][edge + 1],
                         body->rings[2][edge] };
  return fw_mesh_face (mesh, fw_vec3 (0, sign, 0), (const int *const[]){ outer, cross.from },
                       (const int[]){ 4, cross.n }, 2)
         && fw_mesh_face (mesh, fw_vec3 (0, -sign, 0),
                          (const int *const[]){ slot->line[side], cross.to },
                          (const int[]){ slot->n, cross.n }, 2);
}

static gboolean
add_top (FwMesh *mesh, const FwPrism *body, const Slot *slot)
{
  int last = slot->n - 1;
  const int rim[4] = { body->rings[1][2], body->rings[1][3], body->rings[2][3], body->rings[2][2] };
  const int mouth[4] = { slot->line[0][0], slot->line[0][last], slot->line[1][last], slot->line[1][0] };
  return fw_mesh_face (mesh, fw_vec3 (0, 0, 1), (const int *const[]){ rim, mouth },
                       (const int[]){ 4, 4 }, 2);
}

static gboolean
add_ends (FwMesh *mesh, const FwClampSize *s, const FwPrism *body, double chamfer)
{
  FwBore bore = { .n = 0 };
  double half = s->width_mm / 2;
  int loops = s->mouth_deg > 0 ? 1 : 2;
  if (loops == 2)
    fw_mesh_bore (mesh, fw_vec3 (-half, 0, 0), fw_vec3 (half, 0, 0), fw_vec3 (0, 1, 0), s->bore_mm / 2,
                  chamfer, chamfer, &bore);
  const int sizes[2] = { body->n, bore.n };
  return fw_mesh_face (mesh, fw_vec3 (-1, 0, 0), (const int *const[]){ body->rings[0], bore.from },
                       sizes, loops)
         && fw_mesh_face (mesh, fw_vec3 (1, 0, 0), (const int *const[]){ body->rings[3], bore.to },
                          sizes, loops);
}

FwMesh *
fw_clamp_mesh (const FwClampSize *s, double chamfer_mm)
{
  FwVec2 side[FW_MOST_PROFILE];
  const gboolean open[FW_MOST_PROFILE] = { [0] = TRUE, [2] = TRUE, [4] = TRUE };
  const FwFrame frame
      = { fw_vec3 (-s->width_mm / 2, 0, 0), { 0, 1, 0 }, { 0, 0, 1 }, { 1, 0, 0 } };
  g_autoptr (FwMesh) mesh = fw_mesh_new ();
  FwPrism body;
  Slot slot;
  int n = side_outline (s, chamfer_mm, side);
  if (!fw_mesh_prism (mesh, &frame, side, n, s->width_mm, chamfer_mm, FALSE, open, &body))
    return NULL;
  add_slot (mesh, s, &slot);
  if (!add_cheek (mesh, s, &body, &slot, 0, chamfer_mm)
      || !add_cheek (mesh, s, &body, &slot, 1, chamfer_mm) || !add_top (mesh, &body, &slot)
      || !add_ends (mesh, s, &body, chamfer_mm))
    return NULL;
  return g_steal_pointer (&mesh);
}
