/* Crank torque and rod forces against a general multibody library, Simbody (Sherman, Seth and Delp,
 * 2011, Procedia IUTAM 2:241-261), which shares no code with ours: rigid bodies on pins, rods as
 * distance constraints, the crank moved steadily, constraints and motion by multipliers. Places and
 * speeds are found by Simbody's own projection. Only crank angle 0 is taken from us, to know how it
 * is put together. */
#include <math.h>
#include <memory>
#include <stdlib.h>
#include <string.h>
#include <vector>

#include <Simbody.h>
#include <glib.h>

extern "C"
{
#include "build_design.h"
#include "core/loads.h"
}

using namespace SimTK;

namespace
{

/* Simbody brings places to 1e-11 m or better and speeds to 1e-11 m/s, in levers of 0.03 m and more: forces
 * are then good to some 1e-9 of the peak. Measured: 5e-12 the torque, 3e-11 the rods. */
const double ALLOWED = 1e-9;
const double PROJECTED = 1e-11;

Vec3
metres (FwVec3 v)
{
  return Vec3 (v.x, v.y, v.z) / 1000;
}

Vec3
plain (FwVec3 v)
{
  return Vec3 (v.x, v.y, v.z);
}

/* Points of mass and tensors about one origin, in axes of the world at crank angle 0. */
struct Heap
{
  double mass = 0;
  Vec3 moment = Vec3 (0);
  Mat33 tensor = Mat33 (0);

  void
  point (double grams, const Vec3 &at)
  {
    double m = grams / 1000;
    mass += m;
    moment += m * at;
    tensor += m * (~at * at * Mat33 (1) - at * ~at);
  }

  MassProperties
  properties () const
  {
    if (!(mass > 0))
      return MassProperties (1e-12, Vec3 (0), Inertia (1e-16));
    Inertia inertia (tensor (0, 0), tensor (1, 1), tensor (2, 2), tensor (0, 1), tensor (0, 2), tensor (1, 2));
    return MassProperties (mass, moment / mass, inertia);
  }
};

/* The crank's angle is speed times time. */
class Turning : public Motion::Custom::Implementation
{
public:
  explicit Turning (double speed) : speed_ (speed) {}
  Motion::Level getLevel (const State &) const override { return Motion::Position; }
  void calcPrescribedPosition (const State &state, int, Real *q) const override { q[0] = speed_ * state.getTime (); }
  void calcPrescribedPositionDot (const State &, int, Real *rate) const override { rate[0] = speed_; }
  void calcPrescribedPositionDotDot (const State &, int, Real *gain) const override { gain[0] = 0; }

private:
  double speed_;
};

struct Twin
{
  const FwMechanism *mech;
  FwPose *start; /* at crank angle 0 */
  MultibodySystem system;
  SimbodyMatterSubsystem matter;
  GeneralForceSubsystem forces;
  Force::Gravity gravity;
  MobilizedBody::Pin crank, body;
  std::vector<MobilizedBody::Pin> members;
  std::vector<Constraint::Rod> rods;

  Twin (const FwMechanism *m, FwPose *p)
    : mech (m), start (p), matter (system), forces (system), gravity (forces, matter, Vec3 (0, 0, -9.80665))
  {
  }

  Vec3
  origin (int part) const /* -1: crank, 0: body, then members */
  {
    return part < 0 ? Vec3 (0) : part == 0 ? metres (start->body.motion.at.origin)
                                           : metres (start->members[part - 1].motion.at.origin);
  }

  MobilizedBody &
  mobod (int part)
  {
    return part < 0 ? static_cast<MobilizedBody &> (crank)
                    : part == 0 ? static_cast<MobilizedBody &> (body) : members[(size_t)part - 1];
  }

  int
  anchor_part (const FwLink &link) const
  {
    return link.from == FW_FROM_THROW ? -1 : link.from == FW_FROM_BODY ? 0 : link.index + 1;
  }

  /* Its own mass, and the halves of the rods that hold it. */
  Heap
  heap_of (int part) const
  {
    Heap heap;
    if (part == 0)
      {
        const FwBody &b = mech->design->body;
        heap.point (b.mass_g, metres (fw_frame_turn (&start->body.motion.at, b.centre_mm)));
        heap.tensor += Mat33 (b.mass_g * b.gyration_mm * b.gyration_mm * 1e-9);
      }
    if (part > 0)
      {
        const FwPanel &p = mech->design->panels[mech->members[part - 1].panel];
        const FwFrame &f = start->members[part - 1].motion.at;
        heap.point (p.mass_g, metres (fw_frame_turn (&f, p.centre_mm)));
        Mat33 axes (plain (f.u), plain (f.v), plain (f.w)), own (0);
        own (0, 0) = p.inertia_gmm2[0], own (1, 1) = p.inertia_gmm2[1], own (2, 2) = p.inertia_gmm2[2];
        own (0, 1) = own (1, 0) = -p.inertia_gmm2[3];
        heap.tensor += axes * own * ~axes * 1e-9;
      }
    for (int i = 0; i < mech->n_links; i++)
      {
        const FwLink &link = mech->links[i];
        double half = mech->design->rods[link.rod].mass_g / 2;
        if (link.member + 1 == part)
          heap.point (half, metres (start->links[i].to.at) - origin (part));
        if (link.from != FW_FROM_BASE && anchor_part (link) == part)
          heap.point (half, metres (start->links[i].from.at) - origin (part));
      }
    return heap;
  }

  /* A pin through a point of the world about a line of the world, both at crank angle 0. */
  MobilizedBody::Pin
  pin (MobilizedBody parent, const Vec3 &parent_origin, int part, const Vec3 &at, const Vec3 &line)
  {
    Rotation turned (UnitVec3 (line), ZAxis);
    return MobilizedBody::Pin (parent, Transform (turned, at - parent_origin), Body::Rigid (heap_of (part).properties ()),
                               Transform (turned, at - origin (part)));
  }

  void
  build (double speed)
  {
    FwRuns runs = mech->design->crank.runs;
    Vec3 spin = runs == FW_RUNS_ACROSS ? Vec3 (-1, 0, 0) : Vec3 (0, 1, 0);
    crank = pin (matter.Ground (), Vec3 (0), -1, Vec3 (0), spin);
    Motion::Custom (crank, new Turning (speed));
    body = pin (crank, origin (-1), 0, metres (start->pins[mech->body_pin].at), spin);
    Vec3 fore = runs == FW_RUNS_ACROSS ? Vec3 (0, 1, 0) : Vec3 (1, 0, 0);
    FwFrame upright = start->body.motion.at;
    Vec3 normal = fore[1] > 0 ? plain (upright.v) : plain (upright.u);
    const FwVec2 &g = mech->design->body.guide_mm;
    /* The guide stays in the post's plane; along the crank it may be anywhere. */
    Constraint::PointInPlane (body, UnitVec3 (normal), 0, matter.Ground (), (fore * g.x + Vec3 (0, 0, g.y)) / 1000);
    members.resize ((size_t)mech->n_members);
    for (int k = 0; k < mech->n_members; k++)
      {
        int i = mech->order[k], parent = mech->members[i].parent + 1;
        members[(size_t)i] = pin (mobod (parent), origin (parent), i + 1, origin (i + 1), plain (start->members[i].axis));
      }
    for (int i = 0; i < mech->n_links; i++)
      {
        const FwLink &link = mech->links[i];
        Vec3 from = metres (start->links[i].from.at), to = metres (start->links[i].to.at) - origin (link.member + 1);
        bool still = link.from == FW_FROM_BASE;
        MobilizedBody foot = still ? static_cast<MobilizedBody> (matter.Ground ()) : mobod (anchor_part (link));
        Vec3 at = still ? from : from - origin (anchor_part (link));
        rods.push_back (Constraint::Rod (foot, at, members[(size_t)link.member], to, link.length_mm / 1000));
      }
  }
};

/* One turn of both, degree by degree. */
void
compare (FwDesign *design, double turns_per_minute)
{
  FwMechanism *mech = NULL;
  g_assert_cmpint (fw_mechanism_build (design, &mech, NULL), ==, FW_OK);
  FwPose *start = fw_pose_new (mech), *pose = fw_pose_new (mech);
  FwLoads *loads = fw_loads_new (mech);
  double speed = turns_per_minute * 2 * G_PI / 60, peak = 0, most = 0, apart = 0, apart_rods = 0;
  fw_pose_solve (start, mech, 0);

  Twin twin (mech, start);
  twin.build (speed);
  State state = twin.system.realizeTopology ();
  for (int i = 0; i < 360; i++)
    {
      double t = i * G_PI / 180;
      state.setTime (t / speed);
      twin.system.realize (state, Stage::Time);
      twin.system.prescribeQ (state);
      twin.system.realize (state, Stage::Position);
      twin.system.projectQ (state, PROJECTED);
      twin.system.prescribeU (state);
      twin.system.realize (state, Stage::Velocity);
      twin.system.projectU (state, PROJECTED);
      g_assert_cmpfloat (fabs (twin.crank.getOneQ (state, 0) - t), <, 1e-9); /* the crank is not moved to fit */
      twin.system.realize (state, Stage::Acceleration);
      Vector given;
      twin.matter.findMotionForces (state, given);

      fw_pose_solve (pose, mech, t);
      fw_loads_solve (loads, mech, pose, speed);
      g_assert_true (loads->known);
      peak = fmax (peak, fabs (loads->torque));
      /* Simbody writes it on the side of what is moved: M u' + G~ lambda + tau = f. */
      apart = fmax (apart, fabs (-twin.crank.getOneFromUPartition (state, 0, given) - loads->torque));
      for (int k = 0; k < mech->n_links; k++)
        {
          double tension = twin.rods[(size_t)k].getRodTension (state);
          most = fmax (most, fabs (loads->tension[k]));
          apart_rods = fmax (apart_rods, fabs (tension - loads->tension[k]));
        }
    }
  g_test_message ("torque to %.1e of its peak, rods to %.1e", apart / peak, apart_rods / most);
  g_assert_cmpfloat (peak, >, 0.01);
  g_assert_cmpfloat (apart, <=, ALLOWED * peak);
  g_assert_cmpfloat (apart_rods, <=, ALLOWED * most);
  free (start);
  free (pose);
  free (loads);
  fw_mechanism_free (mech);
  fw_design_free (design);
}

FwDesign *
heavy_heron ()
{
  FwDesign *d = build_heron ();
  d->rods[1].mass_g = 18;
  const double inertia[4] = { 90000, 250000, 340000, 20000 };
  memcpy (d->panels[1].inertia_gmm2, inertia, sizeof inertia);
  return d;
}

void
test_heron ()
{
  compare (heavy_heron (), 40);
  compare (heavy_heron (), 150);
}

void
test_swept ()
{
  FwDesign *d = heavy_heron ();
  d->panels[0].sweep_deg = 9;
  d->panels[0].cant_deg = -6;
  d->panels[1].sweep_deg = -5;
  d->panels[1].cant_deg = 4;
  compare (d, 90);
}

/* With the crank along, the two wings move differently. */
void
test_along ()
{
  FwDesign *d = heavy_heron ();
  d->crank.runs = FW_RUNS_ALONG;
  d->crank.throws[0].radius_mm = 16;
  d->crank.throws[1].radius_mm = 18;
  d->crank.throws[1].station_mm = 30;
  d->crank.throws[1].both = false;
  compare (d, 60);
}

} // namespace

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/simbody/a heron's crank torque and rod forces, slow and fast", test_heron);
  g_test_add_func ("/simbody/with swept and canted hinges", test_swept);
  g_test_add_func ("/simbody/with the crank along, both wings unlike", test_along);
  return g_test_run ();
}
