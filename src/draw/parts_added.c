/* What is added to a mechanism to ease its forces: springs and cords between two points, weights on the
 * crank. Springs are drawn as the coils they are, at the length they have in this pose. */
#include "core/springs.h"
#include "draw/drawing.h"

#define TURN_POINTS 12
#define MOST_TURNS 40
#define SLACK_POINTS 24
#define LEAD_DENSITY 11.3e-3 /* g/mm³, from memory: only for how large a weight is drawn */

/* ---- Springs ---- */

typedef struct
{
  FwVec3 from, along; /* unit */
  FwVec3 side[2];     /* unit, square to it and to each other */
  double length;
} Line;

static Line
line_of (const FwCoilPose *pose)
{
  Line l = { .from = pose->from, .length = pose->length_mm };
  l.along = l.length > 1e-9 ? fw_vec3_scale (fw_vec3_sub (pose->to, pose->from), 1 / l.length) : fw_vec3 (0, 0, 1);
  FwVec3 other = fabs (l.along.x) < 0.8 ? fw_vec3 (1, 0, 0) : fw_vec3 (0, 1, 0);
  FwVec3 side = fw_vec3_cross (l.along, other);
  l.side[0] = fw_vec3_scale (side, 1 / fw_vec3_length (side));
  l.side[1] = fw_vec3_cross (l.along, l.side[0]);
  return l;
}

/* The more turns the longer it is unstretched, so that one sees by their pitch how far it is drawn out. */
static int
turns_of (const FwSpringPart *spring, double length)
{
  double free = spring->free_mm > 0 ? spring->free_mm : 0.4 * length;
  return (int)CLAMP (free / 4, 6, MOST_TURNS);
}

/* A helix with a straight leg at either end, on the page. */
static FwPiece *
add_coil (FwDrawing *d, FwPart part, const FwSpringPart *spring, const FwCoilPose *pose)
{
  Line l = line_of (pose);
  int turns = turns_of (spring, l.length), steps = turns * TURN_POINTS;
  double leg = fmin (0.12 * l.length, 14), radius = 5;
  FwPiece *piece = fw_drawing_begin (d, FW_PIECE_TUBE, part, FW_LAYER_WORK, "steel");
  fw_drawing_point (d, fw_drawing_project (d, l.from));
  for (int i = 0; i <= steps; i++)
    {
      double share = (double)i / steps, angle = 2 * G_PI * turns * share;
      double grown = radius * fmin (1, fmin (share, 1 - share) * turns * 2); /* the ends turn in */
      FwVec3 at = fw_vec3_along (l.from, leg + share * (l.length - 2 * leg), l.along);
      at = fw_vec3_along (at, grown * cos (angle), l.side[0]);
      at = fw_vec3_along (at, grown * sin (angle), l.side[1]);
      fw_drawing_point (d, fw_drawing_project (d, at));
    }
  fw_drawing_point (d, fw_drawing_project (d, pose->to));
  piece->n = steps + 3;
  piece->width = 1.1 * d->camera.scale;
  return piece;
}

/* Straight where it pulls; where it is slack it hangs down, as long as it is (a flat parabola's arc). */
static FwPiece *
add_cord (FwDrawing *d, FwPart part, const FwSpringPart *spring, const FwCoilPose *pose)
{
  Line l = line_of (pose);
  double spare = spring->free_mm - l.length;
  double sag = spare > 0 ? sqrt (0.375 * spare * (l.length + spring->free_mm) / 2) : 0;
  FwVec3 down = fw_vec3_along (fw_vec3 (0, 0, -1), l.along.z, l.along);
  double drop = fw_vec3_length (down);
  down = drop > 0.2 ? fw_vec3_scale (down, 1 / drop) : d->axes.right;
  int n = sag > 0 ? SLACK_POINTS : 1;
  FwPiece *piece = fw_drawing_begin (d, FW_PIECE_TUBE, part, FW_LAYER_WORK, "silk");
  for (int i = 0; i <= n; i++)
    {
      double share = (double)i / n;
      FwVec3 at = fw_vec3_along (l.from, share * l.length, l.along);
      fw_drawing_point (d, fw_drawing_project (d, fw_vec3_along (at, 4 * sag * share * (1 - share), down)));
    }
  piece->n = n + 1;
  piece->width = 1.6 * d->camera.scale;
  return piece;
}

void
fw_drawing_add_springs (FwDrawing *d)
{
  const FwMechanism *m = d->scene->mechanism;
  for (int i = 0; i < m->n_coils; i++)
    {
      const FwSpringPart *spring = &m->design->springs[m->coils[i].spring];
      const FwPart part = { FW_PART_SPRING, i };
      FwCoilPose pose = fw_coil_pose (m, d->scene->pose, i);
      if (!isfinite (pose.length_mm))
        continue;
      double depth = (fw_drawing_depth (d, pose.from) + fw_drawing_depth (d, pose.to)) / 2;
      for (int end = 0; end < 2; end++)
        if (m->coils[i].ends[end].kind == FW_FROM_BASE)
          fw_drawing_add_foot (d, end == 0 ? pose.from : pose.to);
      FwPiece *piece = spring->cord ? add_cord (d, part, spring, &pose) : add_coil (d, part, spring, &pose);
      piece->depth = depth;
      piece->shows_through = spring->cord;
      for (int end = 0; end < 2; end++)
        {
          FwVec3 at = end == 0 ? pose.from : pose.to;
          FwPiece *eye = fw_drawing_bar (d, part, "steel", at, at, 5);
          eye->depth = fmax (depth, fw_drawing_depth (d, at)) + 0.2;
        }
    }
}

/* ---- Weights on the crank ---- */

void
fw_drawing_add_weights (FwDrawing *d)
{
  const FwDesign *design = d->scene->mechanism->design;
  FwVec3 axis = fw_crank_axis (design->crank.runs);
  for (int i = 0; i < design->crank.n_weights; i++)
    {
      const FwCrankWeight *w = &design->crank.weights[i];
      const FwPart part = { FW_PART_WEIGHT, i };
      FwVec3 at = fw_crank_weight_at (design, i, d->scene->pose->crank).at;
      FwVec3 hub = fw_vec3_scale (axis, w->station_mm);
      double across = CLAMP (cbrt (w->mass_g / (LEAD_DENSITY * G_PI / 4 * 0.4)), 10, 120), thick = 0.4 * across;
      double web = fmax (0.8 * design->crank.diameter_mm, 4);
      FwPiece *arm = fw_drawing_bar (d, part, design->crank.material, hub, at, web);
      arm->flat_ends = TRUE;
      arm->shows_through = TRUE;
      FwPiece *disc = fw_drawing_cylinder (d, part, "iron", fw_vec3_along (at, -thick / 2, axis),
                                           fw_vec3_along (at, thick / 2, axis), across);
      disc->depth = fmax (disc->depth, arm->depth) + 0.2;
    }
}
