#include "refind.h"

#include <math.h>
#include <stdlib.h>

#include "core/turn.h"
#include "near.h"
#include "random_design.h"

static gboolean
goes_round (const FwDesign *design)
{
  FwMechanism *mech = NULL;
  if (fw_mechanism_build (design, &mech, NULL) != FW_OK)
    return FALSE;
  FwTurn *turn = fw_turn_new (mech, 180);
  fw_turn_solve (turn, mech);
  gboolean closes = fw_turn_closes (turn, mech);
  free (turn);
  fw_mechanism_free (mech);
  return closes;
}

static double
angle_at (const FwDesign *design, const char *part, double crank)
{
  FwMechanism *mech = NULL;
  g_assert_cmpint (fw_mechanism_build (design, &mech, NULL), ==, FW_OK);
  FwPose *pose = fw_pose_new (mech);
  fw_pose_solve (pose, mech, crank);
  double angle = fw_pose_angle (pose, mech, fw_wish_member (mech, part)) / RAD;
  free (pose);
  fw_mechanism_free (mech);
  return angle;
}

static void
let_go (Refind *r, GRand *rand, FwParam param, double below, double above)
{
  double value = fw_param_get (r->known, param), least, most;
  fw_param_limits (r->known, param, &least, &most);
  FwFree item = { .number = fw_param_path (r->known, param),
                  .least = fmax (value - below, least),
                  .most = fmin (value + above, most) };
  fw_wishes_add_free (r->wishes, item);
  fw_param_set (r->start, param, g_rand_double_range (rand, item.least, item.most));
}

Refind
refind_new (GRand *rand)
{
  Refind r = { .wishes = fw_wishes_new () };
  do
    {
      fw_design_free (r.known);
      r.known = random_design (rand, RANDOM_ANY);
    }
  while (!goes_round (r.known));
  r.start = fw_design_copy (r.known);
  int rod = g_rand_int_range (rand, 0, r.known->n_rods);
  r.part = g_strdup (r.known->panels[r.known->rods[rod].panel].name);
  for (int i = 0; i < 12; i++)
    {
      double angle = angle_at (r.known, r.part, i * G_PI / 6);
      fw_wishes_add (r.wishes, (FwWish) { .kind = FW_WISH_ANGLE, .part = g_strdup (r.part), .crank_deg = 30 * i,
                                          .least = angle, .most = angle, .weight = 1 });
    }
  let_go (&r, rand, (FwParam) { FW_PARAM_ROD_LENGTH, rod, 0 }, 80, 80);
  let_go (&r, rand, (FwParam) { FW_PARAM_ROD_AT, rod, 0 }, 40, 40);
  const FwAnchor *from = &r.known->rods[rod].from;
  if (from->kind == FW_FROM_THROW)
    {
      let_go (&r, rand, (FwParam) { FW_PARAM_THROW_RADIUS, from->index, 0 }, 20, 20);
      let_go (&r, rand, (FwParam) { FW_PARAM_THROW_PHASE, from->index, 0 }, 180, 180);
    }
  else
    for (int c = 0; c < 3; c += 2)
      let_go (&r, rand, (FwParam) { FW_PARAM_ROD_FROM, rod, c }, 40, 40);
  return r;
}

void
refind_free (Refind *r)
{
  fw_design_free (r->known);
  fw_design_free (r->start);
  fw_wishes_free (r->wishes);
  g_free (r->part);
}

double
refind_apart (const Refind *r, const FwDesign *design)
{
  double most = 0;
  for (int i = 0; i < 360; i++)
    most = fmax (most, fabs (angle_at (design, r->part, i * RAD) - angle_at (r->known, r->part, i * RAD)));
  return most;
}
