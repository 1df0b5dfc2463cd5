#include "crank_case.h"

#include <stdlib.h>

void
solve (Case *c)
{
  fw_build_free (c->build);
  fw_mechanism_free (c->mech);
  c->mech = NULL;
  g_assert_cmpint (fw_mechanism_build (c->design, &c->mech, NULL), ==, FW_OK);
  c->build = fw_build_new (c->mech);
}

void
done (Case *c)
{
  fw_build_free (c->build);
  fw_mechanism_free (c->mech);
  fw_design_free (c->design);
}

Case
crank (FwMake make, double pipe)
{
  Case c = { .design = build_design (FW_RUNS_ACROSS) };
  c.design->crank.build = (FwCrankBuild) { .given = true, .make = make, .returns = true, .pipe_mm = pipe };
  c.design->base.handle_mm = 0;
  free (c.design->base.bearings_mm);
  c.design->base.bearings_mm = malloc (2 * sizeof (double));
  c.design->base.bearings_mm[0] = -200;
  c.design->base.bearings_mm[1] = 200;
  c.design->base.n_bearings = 2;
  return c;
}

const FwBuiltPiece *
piece (const FwBuild *b, FwBuiltKind kind, int nth)
{
  for (int i = 0; i < b->n_pieces; i++)
    if (b->pieces[i].kind == kind && nth-- == 0)
      return &b->pieces[i];
  g_assert_not_reached ();
}

int
count (const FwBuild *b, FwTroubleKind kind)
{
  int n = 0;
  for (int i = 0; i < b->troubles.n; i++)
    n += b->troubles.items[i].kind == kind;
  return n;
}
