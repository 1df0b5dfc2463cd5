#include "strength/parts.h"

#include "strength/beams.h"
#include "strength/section.h"

#define METRE 0.001

FwRodFlex
fw_rod_flex (const FwMechanism *mech, int link)
{
  const FwRod *rod = &mech->design->rods[mech->links[link].rod];
  FwRodFlex flex = { .length = rod->length_mm * METRE };
  if (!(rod->stuff.young_GPa > 0 && rod->diameter_mm > 0))
    return flex;
  FwBarSection s = fw_section_stock (rod->diameter_mm, rod->wall_mm);
  flex.known = true;
  flex.bending = rod->stuff.young_GPa * 1e9 * s.second_y;
  flex.area = s.area;
  flex.stretching = rod->stuff.young_GPa * 1e9 * s.area;
  flex.modulus = fw_section_modulus_y (&s);
  flex.per_length = rod->stuff.density_kgm3 > 0 ? rod->stuff.density_kgm3 * s.area
                                                : rod->mass_g / 1000 / flex.length;
  flex.euler = fw_column_euler (flex.length, flex.bending, fw_ends_factor (FW_ENDS_PINNED));
  flex.allowed = rod->stuff.yield_MPa * 1e6 / 2;
  return flex;
}

/* Its middle's acceleration against gravity, square to the rod, m/s^2. */
static FwVec3
lifted_sideways (const FwLinkPose *rod, double speed, FwVec3 *along)
{
  FwVec3 way = fw_vec3_sub (rod->to.at, rod->from.at);
  *along = fw_vec3_scale (way, 1 / fw_vec3_length (way));
  FwVec3 middle = fw_vec3_scale (fw_vec3_add (rod->from.acceleration, rod->to.acceleration), 0.5);
  FwVec3 lifted = fw_vec3_scale (middle, speed * speed * METRE);
  lifted.z += FW_GRAVITY;
  return fw_vec3_along (lifted, -fw_vec3_dot (lifted, *along), *along);
}

FwRodBend
fw_rod_bend (const FwRodFlex *rod, const FwMechanism *mech, const FwPose *pose, int link,
             double tension, double speed)
{
  FwVec3 along, sideways = lifted_sideways (&pose->links[link], speed, &along);
  FwVec3 across = fw_vec3_cross (fw_crank_axis (mech->design->crank.runs), along);
  double load = rod->per_length * fw_vec3_length (sideways), l = rod->length;
  double sag = fw_supported_load (load, l, rod->bending).sag;
  double grown = fw_column_bow (-tension, rod->euler, l / FW_CROOKED + sag);
  double moment = fabs (tension) * grown + load * l * l / 8;
  FwRodBend bend = { .push = -tension, .bow = grown };
  bend.swing
      = -fw_supported_load (rod->per_length * fw_vec3_dot (sideways, across), l, rod->bending).sag
        / fmax (fw_vec3_length (across), 1e-9);
  bend.stress = fabs (tension) / rod->area + moment / rod->modulus;
  return bend;
}

FwPostFlex
fw_post_flex (const FwMechanism *mech)
{
  const FwBody *body = &mech->design->body;
  FwPostFlex flex = { .strut = body->ride == FW_RIDE_RAIL };
  if (body->ride == FW_RIDE_FIXED || !(body->stuff.young_GPa > 0 && body->diameter_mm > 0))
    return flex;
  FwBarSection s = fw_section_stock (body->diameter_mm, body->wall_mm);
  flex.known = true;
  flex.length = (flex.strut ? body->rod_mm : body->post_mm) * METRE;
  flex.bending = body->stuff.young_GPa * 1e9 * s.second_y;
  flex.area = s.area;
  flex.modulus = fw_section_modulus_y (&s);
  flex.twist_modulus = s.twist / s.edge_twist;
  flex.allowed = body->stuff.yield_MPa * 1e6 / 2;
  flex.per_length = body->stuff.density_kgm3 * s.area;
  return flex;
}

/* Direct stress of push, bending and a crooked start together. */
static double
pushed_stress (const FwPostFlex *post, double push, double bears, double moment, double torque)
{
  double bow = fw_column_bow (push, bears, post->length / FW_CROOKED);
  double direct = fabs (push) / post->area + (moment + fabs (push) * bow) / post->modulus;
  return fw_stress_mises (direct, torque / post->twist_modulus);
}

static FwPostBend
bend_strut (const FwPostFlex *post, const FwMechanism *mech, const FwPose *pose,
            const FwLoads *loads)
{
  FwVec3 way = fw_vec3_sub (pose->body.motion.at.origin, pose->pins[mech->body_pin].at);
  FwPostBend b
      = { .back = post->length, .bears = fw_column_euler (post->length, post->bending, 1) };
  b.push = fw_vec3_dot (loads->post_pin, way) / fw_vec3_length (way);
  b.stress = pushed_stress (post, b.push, b.bears, 0, 0);
  return b;
}

/* In its plane the post rests on pin and guide: the moment grows from nothing at the pin to V a at
 * the guide and V (a + l) + G l at the tip, V and G being what pin and guide give square to it. Out
 * of the plane the guide takes all, as in the forces. */
FwPostBend
fw_post_bend (const FwPostFlex *post, const FwMechanism *mech, const FwPose *pose,
              const FwLoads *loads)
{
  if (!loads->known)
    return (FwPostBend){ NAN, NAN, NAN, NAN, NAN, NAN, NAN };
  if (post->strut)
    return bend_strut (post, mech, pose, loads);
  const FwBody *body = &mech->design->body;
  FwRuns runs = mech->design->crank.runs;
  FwVec3 axis = fw_crank_axis (runs), h = fw_crank_h (runs), up = { 0, 0, 1 };
  double c = cos (pose->body.tilt), s = sin (pose->body.tilt);
  FwVec3 along = fw_vec3_along (fw_vec3_scale (up, c), s, h),
         across = fw_vec3_along (fw_vec3_scale (h, c), -s, up);
  FwPostBend b
      = { .back = (body->ride == FW_RIDE_SLEEVE ? pose->body.guide_mm : body->on_mm) * METRE };
  b.out = fmax (post->length - b.back, 0);
  b.bears = fw_column_guided (b.back, b.out, post->bending);
  b.push = fw_vec3_dot (loads->post_pin, along);
  double pin = fw_vec3_dot (loads->post_pin, across),
         guide = fw_vec3_dot (loads->carrier.force, across);
  double at_guide = pin * b.back, at_tip = pin * post->length + guide * b.out;
  /* a force at the tip and a moment there that give the same moments at guide and tip */
  double force = b.out > 0 ? (at_guide - at_tip) / b.out : 0;
  b.sag = fw_overhang (force, at_tip, b.back, b.out, post->bending).sag;

  double side = fw_vec3_dot (loads->carrier.force, axis);
  FwVec3 held = fw_vec3_add (loads->carrier.moment, fw_vec3_cross (fw_vec3_scale (along, b.out),
                                                                   fw_vec3_scale (axis, side)));
  double side_moment = fw_vec3_dot (held, across),
         side_tip = fw_vec3_dot (loads->carrier.moment, across);
  double sense = fw_vec3_dot (fw_vec3_cross (along, axis), across); /* +1 or -1 */
  FwBeamSag pulled = fw_cantilever_force (-side, b.out, post->bending);
  FwBeamSag turned = fw_cantilever_moment (-sense * side_tip, b.out, post->bending);
  b.side_sag = pulled.sag + turned.sag;
  double moment = fmax (hypot (at_guide, side_moment), hypot (at_tip, side_tip));
  b.stress = pushed_stress (post, b.push, b.bears, moment, fw_vec3_dot (held, along));
  return b;
}
