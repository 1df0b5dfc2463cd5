#include "shop/buildinner.h"
#include "shop/solidparts.h"

#include <math.h>
#include <stdlib.h>

#include "core/making.h"

FwThread
fw_thread (double size_mm)
{
  static const FwThread table[] = {
    { 2, 4, 1.6, 0.3, 0.4 },    { 2.5, 5, 2, 0.5, 0.45 },   { 3, 5.5, 2.4, 0.5, 0.5 },
    { 4, 7, 3.2, 0.8, 0.7 },    { 5, 8, 4.7, 1, 0.8 },      { 6, 10, 5.2, 1.6, 1 },
    { 8, 13, 6.8, 1.6, 1.25 },  { 10, 16, 8.4, 2, 1.5 },    { 12, 18, 10.8, 2.5, 1.75 },
    { 16, 24, 14.8, 3, 2 },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (table); i++)
    if (size_mm <= table[i].thread_mm + 1e-9)
      return table[i];
  return (FwThread) { size_mm, 1.5 * size_mm, 0.9 * size_mm, 0.2 * size_mm, 0.125 * size_mm };
}

double
fw_build_half (const FwCrankBuild *make)
{
  switch (make->make)
    {
    case FW_MAKE_ELBOWS:
      return make->take_off_mm + make->cup_mm;
    case FW_MAKE_BOLTED:
      return make->web_thickness_mm / 2;
    case FW_MAKE_BENT:
    default:
      return make->bend_radius_mm;
    }
}

double
fw_build_shortest (const FwCrankBuild *make, gboolean flat)
{
  if (make->make == FW_MAKE_ELBOWS)
    return 2 * (make->take_off_mm + make->cup_mm);
  if (make->make == FW_MAKE_BENT)
    return 2 * make->bend_radius_mm + make->leg_mm;
  double corners = fw_thread (make->bolt_mm).across_flats_mm * 2 / sqrt (3.0);
  return (corners + (flat ? make->web_width_mm : make->pipe_mm)) / 2;
}

double
fw_build_nut (const FwCrankBuild *make)
{
  FwThread thread = fw_thread (make->bolt_mm);
  return thread.washer_mm + thread.nut_mm + 2 * thread.pitch_mm;
}

/* Length of wire in a bend: angle (inside radius + neutral * diameter). */
static double
build_bend_allowance (const FwCrankBuild *make, double angle_rad)
{
  double inside = make->bend_radius_mm - make->pipe_mm / 2;
  return angle_rad * (inside + make->neutral * make->pipe_mm);
}

/* The bore must hold the outer edge of the bend at its middle and the inner edge at its ends. */
static double
bore_round_bend (double pipe_mm, double bend_radius_mm, double width_mm)
{
  double inside = bend_radius_mm - pipe_mm / 2, half = width_mm / 2;
  if (half >= inside)
    return INFINITY;
  return bend_radius_mm + pipe_mm / 2 - sqrt (inside * inside - half * half);
}

gboolean
fw_build_ring_passes (double pipe_mm, double bend_radius_mm, double bore_mm, double width_mm)
{
  return bore_mm >= bore_round_bend (pipe_mm, bend_radius_mm, width_mm);
}

void
fw_build_add_trouble (FwBuilding *b, FwTrouble trouble)
{
  trouble.severity = trouble.severity == FW_REMARK ? FW_FAILURE : trouble.severity;
  trouble.to = 2 * G_PI;
  trouble.unit = FW_UNIT_MM;
  g_array_append_val (b->troubles, trouble);
}

/* As the design has it, or as the printed clamp comes out; twins take the same. */
static void
note_fittings (FwBuild *build, const FwMechanism *mech)
{
  gboolean printed = build->design->crank.build.given && !build->make.clamp_given;
  build->fittings_mm = g_new0 (double, mech->n_links + 1);
  for (int i = 0; i < mech->n_links; i++)
    {
      const FwLink *link = &mech->links[i];
      double width = 0;
      if (printed && link->from == FW_FROM_THROW)
        width = i > 0 && mech->links[i - 1].rod == link->rod ? build->fittings_mm[i - 1]
                                                             : fw_clamp_width (mech, link->rod);
      build->fittings_mm[i] = width > 0 ? width : build->make.clamp_mm;
    }
}

FwBuild *
fw_build_new (const FwMechanism *mech)
{
  FwBuild *build = g_new0 (FwBuild, 1);
  FwBuilding b = { .mech = mech, .build = build };

  build->design = mech->design;
  build->make = fw_making (mech->design);
  build->assumed = !mech->design->crank.build.given;
  build->allowance_mm = build_bend_allowance (&build->make, G_PI / 2);
  b.sections = g_array_new (FALSE, TRUE, sizeof (FwStretch));
  b.troubles = g_array_new (FALSE, TRUE, sizeof (FwTrouble));
  note_fittings (build, mech);
  if (mech->n_pins > 0)
    {
      fw_build_lay_out (&b);
      fw_build_make_pieces (&b);
      fw_build_put_on (&b);
    }
  g_array_free (b.sections, TRUE);
  build->troubles.n = build->troubles.capacity = (int)b.troubles->len;
  build->troubles.items = (FwTrouble *)(gpointer)g_array_free (b.troubles, FALSE);
  return build;
}

void
fw_build_free (FwBuild *build)
{
  if (build == NULL)
    return;
  g_free (build->pieces);
  g_free (build->throws);
  g_free (build->fits);
  g_free (build->bends);
  g_free (build->line);
  g_free (build->rings);
  g_free (build->fittings_mm);
  g_free (build->troubles.items);
  g_free (build);
}
