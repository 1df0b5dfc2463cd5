#include "strength/natural.h"

#include "strength/beams.h"

#define METRE 0.001
#define KILOGRAM 0.001

/* The pin through which a part is driven: of the body (part -1) or a member; -1: none. */
static int
driving_pin (const FwMechanism *mech, int part)
{
  for (int hops = 0; part >= 0 && hops <= mech->n_members; hops++)
    {
      const FwMember *m = &mech->members[part];
      const FwLink *rod = m->rod >= 0 ? &mech->links[m->rod] : NULL;
      if (rod != NULL && rod->from == FW_FROM_THROW)
        return rod->index;
      part = rod != NULL && rod->from == FW_FROM_PANEL ? rod->index : m->parent;
    }
  return mech->body_pin;
}

/* Twice the kinetic energy at one radian a second, kg m^2. */
static double
moved_along (const FwInertia *inertia, const FwMotion *motion)
{
  const FwFrame *f = &motion->at;
  FwVec3 moment = fw_frame_turn (f, inertia->moment_gmm);
  FwVec3 turning = fw_frame_turn (f, fw_inertia_times (inertia, fw_frame_unturn (f, motion->spin)));
  double twice = inertia->mass_g * fw_vec3_dot (motion->velocity, motion->velocity)
                 + 2 * fw_vec3_dot (motion->velocity, fw_vec3_cross (motion->spin, moment))
                 + fw_vec3_dot (motion->spin, turning);
  return twice * KILOGRAM * METRE * METRE;
}

void
fw_masses_at_pins (const FwMechanism *mech, const FwPose *pose, const FwLoads *loads,
                   double *masses)
{
  for (int part = -1; part < mech->n_members; part++)
    {
      int pin = driving_pin (mech, part);
      double radius = pin >= 0 ? mech->pins[pin].radius_mm * METRE : 0;
      const FwMotion *motion = part < 0 ? &pose->body.motion : &pose->members[part].motion;
      if (radius > 0)
        masses[pin] += moved_along (&loads->inertia[part + 1], motion) / (radius * radius);
    }
  for (int i = 0; i < mech->n_pins; i++)
    if (mech->pins[i].radius_mm > 0)
      masses[i] += loads->pin_mass[i] * KILOGRAM;
}

double
fw_natural_crank (const FwCrankFlex *flex, const double *masses)
{
  double slowness = flex->weights_slowness;
  for (int i = 0; i < flex->n_pins; i++)
    slowness += masses[i] * fw_crank_flex_give (flex, i);
  return slowness > 0 ? 1 / sqrt (slowness) : INFINITY;
}

/* How high above the datum, along the post, the common centre of body and members is. */
static double
centre_above (const FwMechanism *mech, const FwPose *pose, const FwLoads *loads, double *mass)
{
  FwRuns runs = mech->design->crank.runs;
  FwVec3 along = fw_vec3_along (fw_vec3 (0, 0, cos (pose->body.tilt)), sin (pose->body.tilt),
                                fw_crank_h (runs));
  FwVec3 sum = { 0, 0, 0 }, datum = pose->body.motion.at.origin;
  *mass = 0;
  for (int part = 0; part <= mech->n_members; part++)
    {
      const FwFrame *f = part == 0 ? &pose->body.motion.at : &pose->members[part - 1].motion.at;
      const FwInertia *inertia = &loads->inertia[part];
      sum = fw_vec3_add (sum, fw_frame_turn (f, inertia->moment_gmm));
      sum = fw_vec3_along (sum, inertia->mass_g, fw_vec3_sub (f->origin, datum));
      *mass += inertia->mass_g * KILOGRAM;
    }
  return *mass > 0 ? fw_vec3_dot (sum, along) * METRE * KILOGRAM / *mass : 0;
}

double
fw_slowness_post (const FwPostFlex *post, const FwPostBend *bend, const FwMechanism *mech,
                  const FwPose *pose, const FwLoads *loads)
{
  double mass, high = centre_above (mech, pose, loads, &mass);
  FwBeamSag tip = fw_overhang (1, high, bend->back, bend->out, post->bending);
  double give = tip.sag + tip.slope * high;
  return give * (mass + post->per_length * bend->out * 33 / 140);
}

double
fw_slowness_on_rod (const FwRodFlex *rod, const FwMechanism *mech, const FwPose *pose,
                    const FwLoads *loads, int member)
{
  const FwMember *m = &mech->members[member];
  const FwFrame *f = &pose->members[member].motion.at;
  FwVec3 axis = fw_frame_unturn (f, pose->members[member].axis);
  double turning = fw_vec3_dot (axis, fw_inertia_times (&loads->inertia[member + 1], axis));
  double lever = sqrt (m->q2) * pose->members[member].squareness * METRE;
  double stiffness = rod->stretching / rod->length;
  return turning * KILOGRAM * METRE * METRE / (stiffness * lever * lever);
}

double
fw_natural_strip (const FwStripFlex *strip, const FwMechanism *mech, const FwLoads *loads)
{
  double masses[FW_STRIP_POINTS] = { 0 };
  for (int p = 0; p < strip->n_points; p++)
    if (strip->child[p] >= 0)
      {
        double mass = loads->inertia[strip->child[p] + 1].mass_g * KILOGRAM;
        masses[p] = mech->members[strip->child[p]].rod >= 0 ? mass / 2 : mass;
      }
  return fw_strip_frequency (strip, masses);
}
