/* Every interval of trouble in random designs against dense samples of the quantity, which is
 * worked out here from the places of rod ends and hinges. */
#include "build_design.h"
#include "look.h"
#include "random_design.h"

typedef enum
{
  PUSH,
  LEAN,
  BEND,
  ANGLE,
  FLIP,
  N_OWN
} Own;

static double
asin_of (double s)
{
  return asin (fmin (1, fabs (s)));
}

/* From where the rod's ends and the hinge are, not from the core's own quantities. Degrees. */
static double
own_value (Rig *rig, Own own, int link)
{
  const FwMechanism *m = rig->mechanism;
  int member = m->links[link].member;
  const FwMemberPose *p = &rig->pose->members[member];
  if (p->closure != FW_CLOSES)
    return NAN;
  FwVec3 rod = fw_vec3_sub (rig->pose->links[link].to.at, rig->pose->links[link].from.at);
  rod = fw_vec3_scale (rod, 1 / fw_vec3_length (rod));
  const FwPanel *panel = &rig->design->panels[m->members[member].panel];
  double s = panel->sweep_deg * RAD, c = panel->cant_deg * RAD;
  /* The hinge line is fixed in the panel too: it is the axis that the panel turns about. */
  FwVec3 line
      = fw_frame_turn (&p->motion.at, fw_vec3 (sin (s) * cos (c), cos (s) * cos (c), sin (c)));
  FwVec3 arm = fw_vec3_sub (rig->pose->links[link].to.at, p->motion.at.origin);
  FwVec3 across = fw_vec3_cross (line, arm),
         perp = fw_vec3_along (arm, -fw_vec3_dot (arm, line), line);
  FwVec3 to_anchor = fw_vec3_sub (rig->pose->links[link].from.at, p->motion.at.origin);
  FwVec3 flat = fw_vec3_along (to_anchor, -fw_vec3_dot (to_anchor, line), line);
  switch (own)
    {
    case PUSH:
      return asin_of (fw_vec3_dot (rod, across) / fw_vec3_length (across)) / RAD;
    case LEAN:
      return asin_of (rig->design->crank.runs == FW_RUNS_ACROSS ? rod.x : rod.y) / RAD;
    case BEND:
      return asin_of (fw_vec3_dot (rod, line)) / RAD;
    case ANGLE:
      return fw_pose_angle (rig->pose, m, member) / RAD;
    default:
      {
        /* The other root mirrors the arm in the plane of hinge line and anchor. */
        double between
            = atan2 (fw_vec3_length (fw_vec3_cross (perp, flat)), fw_vec3_dot (perp, flat));
        return fmin (2 * between, 2 * G_PI - 2 * between) / RAD;
      }
    }
}

static void
test_quantities (void)
{
  GRand *rand = g_rand_new_with_seed (62);
  for (int n = random_rounds (200); n > 0; n--)
    {
      Rig rig = rig_new (random_design (rand, RANDOM_ANY));
      rig_solve (&rig, g_rand_double_range (rand, 0, 360));
      for (int i = 0; i < rig.mechanism->n_links; i++)
        {
          int member = rig.mechanism->links[i].member;
          if (rig.pose->members[member].closure != FW_CLOSES)
            {
              g_assert_true (isnan (fw_pose_push (rig.pose, rig.mechanism, i)));
              g_assert_true (isnan (fw_pose_lean (rig.pose, rig.mechanism, i)));
              g_assert_true (isnan (fw_pose_bend (rig.pose, rig.mechanism, i)));
              g_assert_true (isnan (fw_pose_other_root (rig.pose, rig.mechanism, member)));
              continue;
            }
          assert_near (fw_pose_push (rig.pose, rig.mechanism, i) / RAD, own_value (&rig, PUSH, i),
                       1e-5);
          assert_near (fw_pose_lean (rig.pose, rig.mechanism, i) / RAD, own_value (&rig, LEAN, i),
                       1e-5);
          assert_near (fw_pose_bend (rig.pose, rig.mechanism, i) / RAD, own_value (&rig, BEND, i),
                       1e-5);
          double other = fw_pose_other_root (rig.pose, rig.mechanism, member);
          assert_near (fabs (other) / RAD, own_value (&rig, FLIP, i), 1e-5);
          g_assert_true (other > -G_PI - 1e-12 && other <= G_PI + 1e-12);
          assert_near (sin (fw_pose_push (rig.pose, rig.mechanism, i)),
                       rig.pose->members[member].squareness, 1e-9);
        }
      rig_free (&rig);
    }
  g_rand_free (rand);
}

typedef struct
{
  FwTroubleKind kind;
  Own own;
  int sign;     /* +1: exceeds above the limit */
  double limit; /* deg */
  FwPart part;
  int link;
} Expect;

static bool
covered (const Look *l, const Expect *e, double crank, double slack)
{
  for (int i = 0; i < l->list.n; i++)
    {
      const FwTrouble *t = &l->list.items[i];
      if (t->kind != e->kind || t->part.kind != e->part.kind || t->part.index != e->part.index
          || fabs (t->limit - e->limit) > 1e-9)
        continue;
      for (int k = -1; k <= 1; k++)
        if (crank + 2 * G_PI * k >= t->from - slack && crank + 2 * G_PI * k <= t->to + slack)
          return true;
    }
  return false;
}

static double
own_excess (Look *l, const Expect *e, double crank)
{
  fw_pose_solve (l->rig.pose, l->rig.mechanism, crank);
  return e->sign * (own_value (&l->rig, e->own, e->link) - e->limit);
}

/* A gap within a step: there the list may be short, since the gap itself is a failure. */
static bool
beside_gap (Look *l, const Expect *e, double crank)
{
  double step = 2 * G_PI / l->turn->steps;
  for (int k = -20; k <= 20; k++)
    if (isnan (own_excess (l, e, crank + step * k / 20)))
      return true;
  return false;
}

/* True if samples and intervals tell the same story; says where they do not. */
static bool
agree (Look *l, const Expect *e, int *intervals)
{
  double most = -INFINITY;
  bool same = true;
  for (int k = 0; k < 3600 && same; k++)
    {
      double crank = 2 * G_PI * k / 3600, x = own_excess (l, e, crank);
      most = x > most ? x : most;
      if (isnan (x) || fabs (x) < 1e-3 || (x > 0) == covered (l, e, crank, x > 0 ? 1e-5 : -1e-5))
        continue;
      if (!beside_gap (l, e, crank))
        {
          g_test_message ("%s of %s: excess %g deg at %.2f deg, limit %g",
                          fw_trouble_name (e->kind), fw_part_name (l->rig.mechanism, e->part), x,
                          crank / RAD, e->limit);
          same = false;
        }
    }
  for (int i = 0; i < l->list.n && same; i++)
    {
      const FwTrouble *t = &l->list.items[i];
      if (t->kind != e->kind || t->part.kind != e->part.kind || t->part.index != e->part.index
          || fabs (t->limit - e->limit) > 1e-9)
        continue;
      (*intervals)++;
      double worst = own_excess (l, e, t->worst);
      assert_near (worst, e->sign * (t->value - t->limit), 1e-5);
      g_assert_cmpfloat (worst, >, -1e-6);
      bool whole = t->to - t->from > 2 * G_PI - 1e-9;
      for (int end = 0; end < 2 && !whole; end++)
        {
          double at = end ? t->to : t->from, in = own_excess (l, e, at + (end ? -1e-5 : 1e-5)),
                 out = own_excess (l, e, at + (end ? 1e-5 : -1e-5));
          if (t->to - t->from > 3e-5)
            g_assert_cmpfloat (in, >, -1e-6);
          g_assert_true (isnan (out) || out < 1e-6);
        }
      double inside = -INFINITY;
      for (int k = 0; k <= 400; k++)
        {
          double at = t->from + (t->to - t->from) * k / 400, x = own_excess (l, e, at);
          if (x > inside && !beside_gap (l, e, at))
            inside = x;
        }
      g_assert_cmpfloat (worst, >=, inside - 1e-3);
    }
  return same;
}

static double
least_push (Look *l, int link)
{
  double least = INFINITY;
  for (int k = 0; k < 3600; k++)
    {
      fw_pose_solve (l->rig.pose, l->rig.mechanism, 2 * G_PI * k / 3600);
      double v = own_value (&l->rig, PUSH, link);
      least = v < least ? v : least;
    }
  return least;
}

static void
test_dense (void)
{
  GRand *rand = g_rand_new_with_seed (63);
  int intervals = 0, wrong = 0, looked = 0;
  for (int n = random_rounds (6); n > 0; n--)
    {
      FwDesign *d = random_design (rand, RANDOM_ANY);
      for (int i = 0; i < d->n_panels; i++)
        if (g_rand_boolean (rand))
          build_stops (d, i, g_rand_double_range (rand, -60, 0), g_rand_double_range (rand, 1, 60));
      for (int i = 0; i < d->n_rods; i++)
        {
          d->rods[i].lean_limit_deg = g_rand_double_range (rand, 5, 80);
          d->rods[i].bend_limit_deg = g_rand_double_range (rand, 5, 80);
          if (g_rand_int_range (rand, 0, 4) == 0)
            d->rods[i].length_mm *= g_rand_double_range (rand, 0.95, 1.05);
        }
      Look *l = look_new (d, 360);
      for (int i = 0; i < l->rig.mechanism->n_links; i++)
        {
          const FwMechanism *m = l->rig.mechanism;
          const FwRod *rod = &d->rods[m->links[i].rod];
          const FwMember *member = &m->members[m->links[i].member];
          FwPart link = { FW_PART_LINK, i }, panel = { FW_PART_MEMBER, m->links[i].member };
          bool warn = least_push (l, i) < 30 - 1e-4;
          Expect list[6] = { { FW_LEAN_LIMIT, LEAN, 1, rod->lean_limit_deg, link, i },
                             { FW_BEND_LIMIT, BEND, 1, rod->bend_limit_deg, link, i },
                             { FW_WEAK_PUSH, PUSH, -1, warn ? 30 : 45, link, i },
                             { FW_MAY_FLIP, FLIP, -1, 30, panel, i } };
          int k = member->has_stops ? 3 : 4; /* whether a stop bars the flip is tested by itself */
          if (member->has_stops)
            {
              list[k++] = (Expect){ FW_PAST_STOP, ANGLE, 1, member->stop_max / RAD, panel, i };
              list[k++] = (Expect){ FW_PAST_STOP, ANGLE, -1, member->stop_min / RAD, panel, i };
            }
          for (int j = 0; j < k; j++)
            {
              looked++;
              wrong += !agree (l, &list[j], &intervals);
            }
        }
      look_free (l);
    }
  g_rand_free (rand);
  g_test_message ("%d comparisons, %d intervals, %d do not agree", looked, intervals, wrong);
  g_assert_cmpint (intervals, >, 20);
  g_assert_cmpint (wrong, ==, 0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func (
      "/intervals/push, lean, bend and other root are what the places of the parts make them",
      test_quantities);
  g_test_add_func ("/intervals/those of random designs hold exactly what dense samples show",
                   test_dense);
  return g_test_run ();
}
