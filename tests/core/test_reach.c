/* What two parts stand on, and which numbers can move them: compared with the whole pose solved. */
#include "core/reach.h"

#include <stdlib.h>
#include <string.h>

#include "build_design.h"
#include "near.h"
#include "random_design.h"

static FwPart
member (int index)
{
  return (FwPart){ FW_PART_MEMBER, index };
}

static FwPart
link_of (int index)
{
  return (FwPart){ FW_PART_LINK, index };
}

/* Bit by bit: what is not asked for must not be a little in it either. */
static void
assert_same_part (const FwPose *is, const FwPose *was, FwPart part)
{
  if (part.kind == FW_PART_MEMBER)
    g_assert_cmpmem (&is->members[part.index].motion, sizeof (FwMotion),
                     &was->members[part.index].motion, sizeof (FwMotion));
  else
    g_assert_cmpmem (&is->links[part.index], sizeof is->links[0], &was->links[part.index],
                     sizeof was->links[0]);
}

/* ---- Known by hand ---- */

/* The heron: `inner` is driven by `inrod` from throw 0 or 1, `outer` hangs on it and is driven by
 * `outrod` from the body. */
static void
test_by_hand (void)
{
  Rig rig = rig_new (build_heron ());
  const FwMechanism *m = rig.mechanism;
  int inner = 0, outer = 0, of_outer = 0;
  for (int i = 0; i < m->n_members; i++)
    if (!m->members[i].left)
      *(m->members[i].parent == FW_ON_BODY ? &inner : &outer) = i;
  for (int i = 0; i < m->n_links; i++)
    if (m->links[i].member == outer)
      of_outer = i;
  FwNeeded one = fw_needed_by (m, member (inner), member (inner)),
           both = fw_needed_by (m, link_of (of_outer), member (inner));
  int panel = m->members[inner].panel, other = m->members[outer].panel;
  int rod = m->links[m->members[inner].rod].rod, other_rod = m->links[of_outer].rod;
  int thrown = m->pins[m->links[m->members[inner].rod].index].throw_index;

  g_assert_cmpint (one.n, ==, 1);
  g_assert_cmpint (both.n, ==, 2);
  g_assert_cmpint (m->order[both.place[0]], ==, inner);
  g_assert_cmpint (m->order[both.place[1]], ==, outer);
  g_assert_true (fw_needed_moves (&one, m, (FwParam){ FW_PARAM_PANEL_HINGE, panel, 2 }));
  g_assert_true (fw_needed_moves (&one, m, (FwParam){ FW_PARAM_ROD_LENGTH, rod, 0 }));
  g_assert_true (fw_needed_moves (&one, m, (FwParam){ FW_PARAM_THROW_PHASE, thrown, 0 }));
  g_assert_true (fw_needed_moves (&one, m, (FwParam){ FW_PARAM_BODY_POST, 0, 0 }));
  g_assert_false (fw_needed_moves (&one, m, (FwParam){ FW_PARAM_PANEL_HINGE, other, 2 }));
  g_assert_false (fw_needed_moves (&one, m, (FwParam){ FW_PARAM_ROD_LENGTH, other_rod, 0 }));
  g_assert_true (fw_needed_moves (&both, m, (FwParam){ FW_PARAM_PANEL_HINGE, other, 2 }));
  g_assert_true (fw_needed_moves (&both, m, (FwParam){ FW_PARAM_ROD_LENGTH, other_rod, 0 }));
  rig_free (&rig);
}

/* ---- At random ---- */

/* As the random designs are, all driven; then some panels lose their rods and hang, and a cord
 * joins two of them. */
static FwDesign *
random_some_hanging (GRand *r)
{
  FwDesign *d = random_design (r, RANDOM_ANY);
  int n = 0;
  for (int i = 0; i < d->n_panels; i++)
    build_mass (d, i, g_rand_double_range (r, 20, 100), g_rand_double_range (r, 30, 90),
                g_rand_double_range (r, -30, 30), 5);
  for (int i = 0; i < d->n_rods; i++)
    if (n > 0 && g_rand_int_range (r, 0, 3) == 0)
      {
        free (d->rods[i].name);
        free (d->rods[i].material);
      }
    else
      d->rods[n++] = d->rods[i];
  if (n == d->n_rods && d->n_panels > 1 && d->panels[0].side == d->panels[1].side)
    build_spring (d, d->panels[0].side, from_body (20, 0, 60), from_base (40, 10, 0), 0.2, 30,
                  true);
  d->n_rods = n;
  return d;
}

static FwPart
random_part (GRand *r, const FwMechanism *m)
{
  return g_rand_boolean (r) ? member (g_rand_int_range (r, 0, m->n_members))
                            : link_of (g_rand_int_range (r, 0, m->n_links));
}

/* Whether the parts stand and move as they did with the number a little off; true as well where
 * that cannot be built. */
static gboolean
stay (const Rig *rig, FwParam param, double crank, FwPart a, FwPart b, gboolean must)
{
  FwDesign *d = fw_design_copy (rig->design);
  FwMechanism *m = NULL;
  gboolean same = TRUE;
  fw_param_set (d, param, fw_param_get (d, param) * 1.01 + 0.37);
  if (fw_mechanism_build (d, &m, NULL) == FW_OK)
    {
      FwPose *pose = fw_pose_new (m);
      fw_pose_solve (pose, m, crank);
      for (int i = 0; i < 2 && must; i++)
        assert_same_part (pose, rig->pose, i ? b : a);
      for (int i = 0; i < 2; i++)
        {
          FwPart part = i ? b : a;
          int of = part.kind == FW_PART_MEMBER ? part.index : m->links[part.index].member;
          same = same
                 && memcmp (&pose->members[of].motion, &rig->pose->members[of].motion,
                            sizeof (FwMotion))
                        == 0;
        }
      free (pose);
      fw_mechanism_free (m);
    }
  fw_design_free (d);
  return same;
}

static void
test_others_move_nothing (void)
{
  GRand *r = g_rand_new_with_seed (20261201);
  int others = 0, moving = 0, own = 0, hanging = 0;
  for (int round = 0; round < random_rounds (60); round++)
    {
      FwDesign *design = random_some_hanging (r);
      FwParam params[600];
      int n = fw_design_params (design, params, G_N_ELEMENTS (params));
      g_assert_cmpint (n, <=, G_N_ELEMENTS (params));
      double crank = g_rand_double_range (r, -G_PI, G_PI);
      Rig rig = rig_new (design);
      fw_pose_solve (rig.pose, rig.mechanism, crank);
      FwPart a = random_part (r, rig.mechanism), b = random_part (r, rig.mechanism);
      FwNeeded needed = fw_needed_by (rig.mechanism, a, b);
      for (int k = 0; k < n; k++)
        {
          gboolean moves = fw_needed_moves (&needed, rig.mechanism, params[k]);
          gboolean same = stay (&rig, params[k], crank, a, b, !moves);
          others += !moves;
          own += moves && fw_param_moves (params[k]);
          moving += moves && !same;
        }
      for (int i = 0; i < rig.mechanism->n_members; i++)
        hanging += rig.mechanism->members[i].rod < 0;
      rig_free (&rig);
    }
  g_test_message ("%d numbers left the parts alone; of %d that shape their motion %d moved them; "
                  "%d panels hung",
                  others, own, moving, hanging);
  g_assert_cmpint (others, >, 60 * 20);
  g_assert_cmpint (hanging, >, 40);
  g_assert_cmpint (2 * moving, >, own); /* or it would say of too many that they may */
  g_rand_free (r);
}

static void
test_solved_alone (void)
{
  GRand *r = g_rand_new_with_seed (20261202);
  for (int round = 0; round < random_rounds (200); round++)
    {
      Rig rig = rig_new (random_some_hanging (r));
      FwPart a = random_part (r, rig.mechanism), b = random_part (r, rig.mechanism);
      FwNeeded needed = fw_needed_by (rig.mechanism, a, b);
      FwPose *alone = fw_pose_new (rig.mechanism);
      double crank = g_rand_double_range (r, -G_PI, G_PI);
      fw_pose_solve (rig.pose, rig.mechanism, crank);
      fw_needed_solve (&needed, alone, rig.mechanism, cos (crank), sin (crank), true);
      assert_same_part (alone, rig.pose, a);
      assert_same_part (alone, rig.pose, b);
      free (alone);
      rig_free (&rig);
    }
  g_rand_free (r);
}

/* More than are kept one by one: then all is needed, and every number may move them. */
static void
test_too_many (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  int apart = build_panel (d, "apart", FW_SIDE_RIGHT, FW_ON_BODY, fw_vec3 (20, 0, 0), 50),
      on = FW_ON_BODY;
  build_throw (d, "mid", 20, 0, 0);
  for (int i = 0; i <= FW_MOST_NEEDED; i++)
    {
      char name[8];
      g_snprintf (name, sizeof name, "p%d", i);
      on = build_panel (d, name, FW_SIDE_RIGHT, on, fw_vec3 (20, 0, 0), 50);
      g_snprintf (name, sizeof name, "r%d", i);
      build_rod (d, name, FW_SIDE_RIGHT, from_body (10, 30, -60), on, fw_vec3 (15, 5, 0), 80, 0);
    }
  Rig rig = rig_new (d);
  FwNeeded most = fw_needed_by (rig.mechanism, member (FW_MOST_NEEDED), member (FW_MOST_NEEDED)),
           more
           = fw_needed_by (rig.mechanism, member (FW_MOST_NEEDED + 1), member (FW_MOST_NEEDED + 1));
  FwParam hinge = { FW_PARAM_PANEL_HINGE, apart, 0 };
  g_assert_false (most.all);
  g_assert_cmpint (most.n, ==, FW_MOST_NEEDED);
  g_assert_false (fw_needed_moves (&most, rig.mechanism, hinge));
  g_assert_true (more.all);
  g_assert_true (fw_needed_moves (&more, rig.mechanism, hinge));
  rig_free (&rig);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/reach/a-heron's-inner-panel-asks-nothing-of-the-outer", test_by_hand);
  g_test_add_func ("/reach/a-number-said-not-to-move-two-parts-leaves-them-as-they-were",
                   test_others_move_nothing);
  g_test_add_func ("/reach/what-is-needed-solved-alone-is-what-the-whole-pose-gives",
                   test_solved_alone);
  g_test_add_func ("/reach/more-than-two-dozen-parts-below-ask-for-the-whole-pose", test_too_many);
  return g_test_run ();
}
