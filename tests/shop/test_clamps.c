/* Room on the crank's pins for the rod clamps that are printed. */
#include <glib.h>
#include <string.h>

#include "demo_mechanism.h"
#include "shop/build.h"
#include "shop/solidparts.h"

/* The crank leaves each rod's fitting what its printed clamp takes (the crank looks at the lean at every
 * fifth degree, the clamp at every half), and that is room enough. */
static void
the_crank_keeps_room_for_the_clamps_that_are_printed (void)
{
  const char *const built[] = { "heron", "manta" };
  for (int d = 0; d < 2; d++)
    {
      FwMechanism *m = mechanism_of (built[d], NULL, NULL);
      FwSolidParts *parts = fw_solid_parts_new (m, NULL, FW_LENGTHS_MM);
      FwBuild *build = fw_build_new (m);
      int seen = 0;
      for (int i = 0; i < parts->n_parts; i++)
        for (int k = 0; k < m->n_links && parts->parts[i].kind == FW_MADE_CLAMP; k++)
          if (m->links[k].rod == parts->parts[i].index)
            {
              g_assert_cmpfloat_with_epsilon (build->fittings_mm[k], parts->parts[i].as.clamp.width_mm, 0.02);
              seen++;
            }
      g_assert_cmpint (seen, >=, 4);
      g_assert_cmpint (build->troubles.n, ==, 0);
      fw_build_free (build);
      fw_solid_parts_free (parts);
      fw_mechanism_free (m);
    }
}

/* A throw too narrow for the lean of its rods: the clamp cannot be printed, and the crank says so too. */
static void
a_throw_too_narrow_for_the_clamp_is_trouble_of_the_crank (void)
{
  FwMechanism *m = mechanism_of ("heron", "\"crank\": {", "\"print\": {\"wall\": 9, \"chamfer\": 0.5}, \"crank\": {");
  FwBuild *build = fw_build_new (m);
  int found = 0;
  for (int i = 0; i < build->troubles.n; i++)
    {
      const FwTrouble *t = &build->troubles.items[i];
      if (t->kind != FW_THROWS_COLLIDE || t->has_other)
        continue;
      g_assert_true (t->part.kind == FW_PART_CRANK && t->part.index > 0);
      g_assert_cmpfloat (t->limit, >, t->value);
      found++;
    }
  g_assert_cmpint (found, >, 0);
  fw_build_free (build);
  fw_mechanism_free (m);
}

/* With `clamp` the design says how wide, and the printed clamp is made no wider; too little is told. */
static void
a_clamp_is_made_no_wider_than_the_design_says (void)
{
  const double given[] = { 10, 4 };
  for (int i = 0; i < 2; i++)
    {
      g_autofree char *to = g_strdup_printf ("\"build\": { \"clamp\": %g,", given[i]);
      FwMechanism *m = mechanism_of ("heron", "\"build\": {", to);
      FwSolidParts *parts = fw_solid_parts_new (m, NULL, FW_LENGTHS_MM);
      FwBuild *build = fw_build_new (m);
      int made = 0, told = 0;
      for (int k = 0; k < parts->n_parts; k++)
        {
          const FwSolidPart *part = &parts->parts[k];
          if (part->kind != FW_MADE_CLAMP)
            continue;
          made += part->problem == NULL;
          told += part->problem != NULL && strstr (part->problem, "crank.build.clamp leaves it 4.0 mm") != NULL;
          g_assert_true (part->problem != NULL || part->as.clamp.width_mm <= given[i] * (1 + 1e-9));
        }
      for (int k = 0; k < m->n_links; k++)
        g_assert_cmpfloat (build->fittings_mm[k], ==, given[i]);
      g_assert_true (i == 0 ? made > 0 && told == 0 : told > 0);
      fw_build_free (build);
      fw_solid_parts_free (parts);
      fw_mechanism_free (m);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/shop/clamps/the-crank-keeps-room-for-the-clamps-that-are-printed",
                   the_crank_keeps_room_for_the_clamps_that_are_printed);
  g_test_add_func ("/shop/clamps/a-throw-too-narrow-for-the-clamp-is-trouble-of-the-crank",
                   a_throw_too_narrow_for_the_clamp_is_trouble_of_the_crank);
  g_test_add_func ("/shop/clamps/a-clamp-is-made-no-wider-than-the-design-says",
                   a_clamp_is_made_no_wider_than_the_design_says);
  return g_test_run ();
}
