/* The closed form against GSL's multiroot solver on the raw equations, over random designs. */
#include <gsl/gsl_errno.h>
#include <string.h>

#include "build_design.h"
#include "near.h"
#include "random_design.h"
#include "second_solver.h"

#define STEPS 90

typedef struct
{
  int designs, refused, poses, members, gaps, gave_up;
  double worst_angle, worst_mm, worst_residual;
} Tally;

static int
core_member (const FwMechanism *m, const SecondMember *second)
{
  for (int i = 0; i < m->n_members; i++)
    if (m->members[i].panel == second->panel && m->members[i].left == second->left)
      return i;
  g_assert_not_reached ();
}

static double
frame_distance (const FwFrame *a, const SecondFrame *b, double arm)
{
  const double o[3] = { a->origin.x, a->origin.y, a->origin.z };
  const double axes[3][3]
      = { { a->u.x, a->v.x, a->w.x }, { a->u.y, a->v.y, a->w.y }, { a->u.z, a->v.z, a->w.z } };
  double worst = 0;
  for (int i = 0; i < 3; i++)
    {
      worst = fmax (worst, fabs (o[i] - b->o[i]));
      for (int j = 0; j < 3; j++)
        worst = fmax (worst, arm * fabs (axes[i][j] - b->m[i][j]));
    }
  return worst;
}

/* Drops what the core calls open (after checking that no angle at all would do), or what stands so
 * near a dead position that the two roots cannot be told apart by steps. */
static void
drop_open (SecondSolver *s, const Rig *rig, Tally *tally)
{
  for (int i = 0; i < s->n_members; i++)
    {
      const FwMemberPose *m = &rig->pose->members[core_member (rig->mechanism, &s->members[i])];
      if (!s->found[i])
        continue;
      if (m->closure != FW_CLOSES)
        {
          tally->gaps++;
          second_drop (s, i);
        }
      else if (m->squareness < 0.12)
        second_drop (s, i);
    }
}

static void
check_open_is_open (SecondSolver *s, const Rig *rig, const bool *before)
{
  for (int i = 0; i < s->n_members; i++)
    {
      const FwMemberPose *m = &rig->pose->members[core_member (rig->mechanism, &s->members[i])];
      bool grounds = s->members[i].parent < 0 || s->found[s->members[i].parent];
      bool from_panel
          = s->design->rods[s->links[s->members[i].link].rod].from.kind == FW_FROM_PANEL;
      if (before[i] && m->closure == FW_SHORT && grounds && !from_panel
          && fabs (m->missing_mm) > 1e-3)
        g_assert_false (second_has_root (s, i));
    }
}

static void
compare (const SecondSolver *s, const Rig *rig, Tally *tally)
{
  SecondFrame body, members[SECOND_ROOM];
  second_place (s, &body, members);
  tally->poses++;
  tally->worst_residual = fmax (tally->worst_residual, s->residual);
  if (s->body_found)
    {
      double apart = frame_distance (&rig->pose->body.motion.at, &body, 300);
      tally->worst_mm = fmax (tally->worst_mm, apart);
      assert_near (apart, 0, 5e-7);
    }
  for (int i = 0; i < s->n_members; i++)
    if (s->found[i])
      {
        int k = core_member (rig->mechanism, &s->members[i]);
        double off
            = remainder (fw_pose_angle (rig->pose, rig->mechanism, k) - s->x[3 + i], 2 * G_PI);
        double apart = frame_distance (&rig->pose->members[k].motion.at, &members[i], 300);
        tally->members++;
        tally->worst_angle = fmax (tally->worst_angle, fabs (off));
        tally->worst_mm = fmax (tally->worst_mm, apart);
        assert_near (off, 0, 1e-9);
        assert_near (apart, 0, 5e-7);
      }
}

/* Follows the linkage from 0 to `end` (turns) and compares at each step. */
static void
follow (SecondSolver *s, Rig *rig, double end, Tally *tally)
{
  double last[3 + SECOND_ROOM], before_last[3 + SECOND_ROOM];
  for (int step = 0; step <= STEPS; step++)
    {
      double crank = 2 * G_PI * end * step / STEPS;
      bool before[SECOND_ROOM];
      fw_pose_solve (rig->pose, rig->mechanism, crank);
      if (rig->pose->body.closure != FW_CLOSES)
        return;
      memcpy (before, s->found, sizeof before);
      drop_open (s, rig, tally);
      if (step >= 2)
        for (int k = 0; k < 3 + SECOND_ROOM; k++)
          s->x[k] = 2 * last[k] - before_last[k];
      if (!second_solve (s, crank))
        {
          tally->gave_up++;
          return;
        }
      check_open_is_open (s, rig, before);
      compare (s, rig, tally);
      memcpy (before_last, last, sizeof last);
      memcpy (last, s->x, sizeof last);
    }
}

static void
check_design (GRand *rand, RandomWish wish, Tally *tally)
{
  Rig rig = rig_new (random_design (rand, wish));
  SecondSolver s;
  second_init (&s, rig.design);
  second_assemble (&s);
  SecondSolver back = s;
  tally->designs++;
  follow (&s, &rig, 0.5, tally);
  follow (&back, &rig, -0.5, tally);
  rig_free (&rig);
}

static void
check_many (RandomWish wish, int n, guint32 seed)
{
  gsl_set_error_handler_off ();
  GRand *rand = g_rand_new_with_seed (seed);
  Tally tally = { 0 };
  for (int i = 0; i < n; i++)
    check_design (rand, wish, &tally);
  g_rand_free (rand);
  g_test_message (
      "%d designs, %d poses, %d panel angles, %d gaps, gave up %d times; worst: angle %.2e rad, "
      "place %.2e mm, residual of the second solver %.2e mm",
      tally.designs, tally.poses, tally.members, tally.gaps, tally.gave_up, tally.worst_angle,
      tally.worst_mm, tally.worst_residual);
  g_assert_cmpint (tally.poses, >, n * STEPS);
  g_assert_cmpint (tally.members, >, n * STEPS);
  g_assert_cmpint (tally.gave_up, <=, n / 50);
}

static void
test_ride (gconstpointer data)
{
  RandomWish wish = RANDOM_ANY;
  wish.ride = GPOINTER_TO_INT (data) & 3;
  wish.runs = GPOINTER_TO_INT (data) >> 2;
  check_many (wish, random_rounds (10), 1000 + GPOINTER_TO_UINT (data));
}

static void
test_assembled_root (void)
{
  GRand *rand = g_rand_new_with_seed (77);
  int compared = 0, rounds = random_rounds (50);
  for (int n = 0; n < rounds; n++)
    {
      Rig rig = rig_new (random_design (rand, RANDOM_ANY));
      SecondSolver s;
      second_init (&s, rig.design);
      second_assemble (&s);
      rig_solve (&rig, 0);
      for (int i = 0; i < s.n_members; i++)
        {
          int k = core_member (rig.mechanism, &s.members[i]);
          bool closes = rig.pose->members[k].closure == FW_CLOSES;
          if (closes && rig.pose->members[k].squareness < 1e-3)
            continue;
          g_assert_cmpint (closes, ==, s.found[i]);
          if (closes)
            assert_near (
                remainder (fw_pose_angle (rig.pose, rig.mechanism, k) - s.x[3 + i], 2 * G_PI), 0,
                1e-9);
          compared += closes;
        }
      rig_free (&rig);
    }
  g_rand_free (rand);
  g_assert_cmpint (compared, >, 3 * rounds);
}

int
main (int argc, char **argv)
{
  static const char *names[]
      = { "a fixed body", "a body on a rail", "a body in a sleeve", "a body on a rocker" };
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/second solver/takes the same root when assembled", test_assembled_root);
  for (int i = 0; i < 8; i++)
    {
      char *path = g_strdup_printf ("/second solver/agrees all the turn with the crank %s and %s",
                                    i >> 2 ? "along" : "across", names[i & 3]);
      g_test_add_data_func (path, GINT_TO_POINTER (i), test_ride);
      g_free (path);
    }
  return g_test_run ();
}
