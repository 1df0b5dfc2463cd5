#include "core/mechanism.h"

#include <stdlib.h>
#include <string.h>

#include "core/solve.h"
#include "core/springs.h"
#include "core/validate.h"

/* Members of one panel by side; -1 where there is none. A middle panel stands in both places. */
typedef struct
{
  int right, left;
} Sides;

typedef struct
{
  FwMechanism *m;
  Sides *panels; /* by panel */
  int *pin_of;   /* by throw: its right-hand or only pin */
  FwFault *fault;
} Builder;

static FwStatus
refuse (Builder *b, FwStatus status, char kind, int index, const char *what)
{
  if (b->fault != NULL)
    *b->fault = (FwFault) { kind, index, what };
  return status;
}

char *
fw_side_name (const char *name, bool twin, bool left)
{
  if (name == NULL)
    name = "";
  const char *ending = !twin ? "" : left ? ".left" : ".right";
  size_t length = strlen (name), extra = strlen (ending);
  char *text = malloc (length + extra + 1);
  if (text == NULL)
    return NULL;
  memcpy (text, name, length); // NOLINT(bugprone-not-null-terminated-result): the ending brings its 0
  memcpy (text + length, ending, extra + 1);
  return text;
}

static void
build_pins (Builder *b)
{
  const FwCrank *crank = &b->m->design->crank;
  for (int i = 0; i < crank->n_throws; i++)
    {
      const FwThrow *t = &crank->throws[i];
      bool twins = t->both && crank->runs == FW_RUNS_ACROSS;
      b->pin_of[i] = b->m->n_pins;
      for (int twin = 0; twin <= (twins ? 1 : 0); twin++)
        b->m->pins[b->m->n_pins++] = (FwPin) { .throw_index = i,
                                               .twin = twin == 1,
                                               .radius_mm = t->radius_mm,
                                               .station_mm = twin ? -t->station_mm : t->station_mm,
                                               .cos_phase = cos (fw_radians (t->phase_deg)),
                                               .sin_phase = sin (fw_radians (t->phase_deg)) };
    }
}

static FwStatus
build_members (Builder *b)
{
  const FwDesign *d = b->m->design;
  for (int i = 0; i < d->n_panels; i++)
    {
      const FwPanel *p = &d->panels[i];
      bool twins = p->side == FW_SIDE_BOTH;
      b->panels[i] = (Sides) { -1, -1 };
      for (int left = 0; left < 2; left++)
        {
          if (p->side == (left ? FW_SIDE_RIGHT : FW_SIDE_LEFT) || (left && p->side == FW_SIDE_MIDDLE))
            continue;
          int index = b->m->n_members++;
          FwMember *member = &b->m->members[index];
          member->panel = i;
          member->left = left == 1;
          member->rod = -1;
          member->name = fw_side_name (p->name, twins, left == 1);
          if (member->name == NULL)
            return FW_NO_MEMORY;
          if (!left || p->side == FW_SIDE_MIDDLE)
            b->panels[i].right = index;
          if (left || p->side == FW_SIDE_MIDDLE)
            b->panels[i].left = index;
        }
    }
  return FW_OK;
}

/* The member of `panel` that a part on the given side meets; -1: none there. A part in the middle
 * can only meet a middle panel. */
static int
meet (const Builder *b, int panel, bool left, bool middle)
{
  if (middle && b->m->design->panels[panel].side != FW_SIDE_MIDDLE)
    return -1;
  return left ? b->panels[panel].left : b->panels[panel].right;
}

static FwStatus
find_parents (Builder *b)
{
  const FwDesign *d = b->m->design;
  for (int i = 0; i < b->m->n_members; i++)
    {
      FwMember *member = &b->m->members[i];
      const FwPanel *p = &d->panels[member->panel];
      member->parent = FW_ON_BODY;
      if (p->on == FW_ON_BODY)
        continue;
      member->parent = meet (b, p->on, member->left, p->side == FW_SIDE_MIDDLE);
      if (member->parent < 0)
        return refuse (b, FW_BAD_REFERENCE, 'p', member->panel, "on");
    }
  return FW_OK;
}

/* The axes of a panel on the body, at angle 0, in the body's coordinates. */
static void
reach_axes (FwReach reach, FwVec3 g[3])
{
  g[2] = fw_vec3 (0, 0, 1);
  g[0] = reach == FW_REACH_SIDE      ? fw_vec3 (1, 0, 0)
         : reach == FW_REACH_FORWARD ? fw_vec3 (0, 1, 0)
                                     : fw_vec3 (0, -1, 0);
  g[1] = fw_vec3_cross (g[2], g[0]);
}

bool
fw_mechanism_hangs (const FwMechanism *mech)
{
  for (int i = 0; i < mech->n_members; i++)
    if (mech->members[i].rod < 0)
      return true;
  return false;
}

int
fw_across_axis (const FwDesign *d, int panel)
{
  while (d->panels[panel].on != FW_ON_BODY)
    panel = d->panels[panel].on;
  return d->panels[panel].reach == FW_REACH_SIDE ? 0 : 1;
}

static FwVec3
mirrored (FwVec3 v, int axis)
{
  return axis == 0 ? fw_vec3 (-v.x, v.y, v.z) : fw_vec3 (v.x, -v.y, v.z);
}

/* The axes of the panel's frame at angle 0 in its parent's coordinates, and its hinge there. Where
 * the mirror image begins (a left member on the body or on a middle panel) both are mirrored. */
static void
rest_axes (const Builder *b, FwMember *member, FwVec3 g[3], FwVec3 *hinge)
{
  const FwDesign *d = b->m->design;
  const FwPanel *p = &d->panels[member->panel];
  g[0] = fw_vec3 (1, 0, 0);
  g[1] = fw_vec3 (0, 1, 0);
  g[2] = fw_vec3 (0, 0, 1);
  *hinge = p->hinge_mm;
  member->flip = fw_vec3 (1, 1, 1);
  if (p->on == FW_ON_BODY)
    reach_axes (p->reach, g);
  bool begins = member->left && (member->parent == FW_ON_BODY || !b->m->members[member->parent].left);
  if (!begins)
    return;
  int axis = p->on == FW_ON_BODY ? 0 : fw_across_axis (d, p->on);
  for (int k = 0; k < 3; k++)
    g[k] = mirrored (g[k], axis);
  *hinge = mirrored (*hinge, axis);
  member->flip = mirrored (member->flip, axis);
}

static FwVec3
combine (const FwVec3 g[3], FwVec3 p)
{
  return fw_vec3_add (fw_vec3_add (fw_vec3_scale (g[0], p.x), fw_vec3_scale (g[1], p.y)),
                      fw_vec3_scale (g[2], p.z));
}

/* The three parts of a vector turned about the unit line e: fixed, with the cosine, with the sine
 * (Rodrigues). All in the panel's coordinates, then in the parent's. */
static void
split (const FwVec3 g[3], FwVec3 e, FwVec3 p, FwVec3 *fixed, FwVec3 *even, FwVec3 *odd)
{
  FwVec3 along = fw_vec3_scale (e, fw_vec3_dot (e, p));
  *fixed = combine (g, along);
  *even = combine (g, fw_vec3_sub (p, along));
  *odd = combine (g, fw_vec3_cross (e, p));
}

static void
build_hinge (const Builder *b, FwMember *member)
{
  const FwPanel *p = &b->m->design->panels[member->panel];
  FwVec3 g[3];
  rest_axes (b, member, g, &member->hinge);
  double s = fw_radians (p->sweep_deg), c = fw_radians (p->cant_deg);
  /* The hinge line as the file has it is turned by -angle; e is the line that is turned by +angle. */
  FwVec3 e = fw_vec3 (-sin (s) * cos (c), -cos (s) * cos (c), -sin (c));
  split (g, e, fw_vec3 (1, 0, 0), &member->fixed[0], &member->even[0], &member->odd[0]);
  split (g, e, fw_vec3 (0, 0, 1), &member->fixed[1], &member->even[1], &member->odd[1]);
  member->handed = member->left ? -1 : 1;
  /* In the world, a frame of the other hand turns the other way round the same line: whether that
   * comes from the parent or from mirroring here, it is the member's own hand that counts. */
  member->axis = fw_vec3_scale (combine (g, e), member->handed);
  member->span_mm = p->span_mm;
  member->has_stops = p->has_stops;
  member->stop_min = fw_radians (p->stops_deg[0]);
  member->stop_max = fw_radians (p->stops_deg[1]);

  if (member->rod < 0)
    return;
  const FwRod *rod = &b->m->design->rods[b->m->links[member->rod].rod];
  split (g, e, rod->at_mm, &member->q_par, &member->q_perp, &member->q_odd);
  member->q2 = fw_vec3_dot (member->q_perp, member->q_perp);
  member->centre = fw_vec3_add (member->hinge, member->q_par);
  member->q2_less_length2 = member->q2 - rod->length_mm * rod->length_mm;
  member->lever_scale = member->q2 > 0 ? 1 / (rod->length_mm * sqrt (member->q2)) : 0;
  member->near = fw_radians (rod->near_deg);
  member->root = 1;
}

static void
flip_anchor (FwLink *link, int axis)
{
  link->from_mm = mirrored (link->from_mm, axis);
  link->flip = mirrored (link->flip, axis);
}

static FwStatus
build_link (Builder *b, int rod_index, bool left)
{
  const FwDesign *d = b->m->design;
  const FwRod *rod = &d->rods[rod_index];
  int index = b->m->n_links++;
  FwLink *link = &b->m->links[index];
  bool middle = rod->side == FW_SIDE_MIDDLE;
  *link = (FwLink) { .rod = rod_index,
                     .left = left,
                     .from = rod->from.kind,
                     .from_mm = rod->from.at_mm,
                     .flip = { 1, 1, 1 },
                     .at_mm = rod->at_mm,
                     .length_mm = rod->length_mm };
  link->name = fw_side_name (rod->name, rod->side == FW_SIDE_BOTH, left);
  if (link->name == NULL)
    return FW_NO_MEMORY;

  link->member = meet (b, rod->panel, left, middle);
  if (link->member < 0 || (!middle && d->panels[rod->panel].side == FW_SIDE_MIDDLE))
    return refuse (b, FW_BAD_REFERENCE, 'r', rod_index, "side");
  if (b->m->members[link->member].rod >= 0)
    return refuse (b, FW_TWO_RODS, 'r', rod_index, "to");
  b->m->members[link->member].rod = index;

  if (rod->from.kind == FW_FROM_THROW)
    {
      int pin = b->pin_of[rod->from.index];
      bool twins = pin + 1 < b->m->n_pins && b->m->pins[pin + 1].twin;
      link->index = left && twins ? pin + 1 : pin;
      return FW_OK;
    }
  if (rod->from.kind != FW_FROM_PANEL)
    {
      if (left)
        flip_anchor (link, 0);
      return FW_OK;
    }
  link->index = meet (b, rod->from.index, left, middle);
  if (link->index < 0)
    return refuse (b, FW_BAD_REFERENCE, 'r', rod_index, "from");
  if (left && !b->m->members[link->index].left)
    flip_anchor (link, fw_across_axis (d, rod->from.index));
  return FW_OK;
}

static FwStatus
build_links (Builder *b)
{
  for (int i = 0; i < b->m->design->n_rods; i++)
    {
      FwSide side = b->m->design->rods[i].side;
      for (int left = 0; left < 2; left++)
        {
          if (left ? side == FW_SIDE_RIGHT || side == FW_SIDE_MIDDLE : side == FW_SIDE_LEFT)
            continue;
          FwStatus status = build_link (b, i, left == 1);
          if (status != FW_OK)
            return status;
        }
    }
  return FW_OK;
}

static int
anchor_member (const FwMechanism *m, const FwMember *member)
{
  if (member->rod < 0 || m->links[member->rod].from != FW_FROM_PANEL)
    return -1;
  return m->links[member->rod].index;
}

/* What a member that could not be placed waits for. */
static int
waits_for (const FwMechanism *m, const bool *placed, int member)
{
  int parent = m->members[member].parent;
  return parent >= 0 && !placed[parent] ? parent : anchor_member (m, &m->members[member]);
}

/* A rod in the ring: follow what a member waits for until it must be going round, then on to a member
 * that waits for its rod's anchor. There is one, for parents alone make no ring. */
static int
rod_in_ring (const FwMechanism *m, const bool *placed, int member)
{
  for (int steps = 0; steps <= m->n_members; steps++)
    member = waits_for (m, placed, member);
  while (m->members[member].parent >= 0 && !placed[m->members[member].parent])
    member = m->members[member].parent;
  return m->links[m->members[member].rod].rod;
}

/* Solve order: passes over the members, each taking those whose parent and anchor are placed. */
static FwStatus
find_order (Builder *b)
{
  FwMechanism *m = b->m;
  bool *placed = calloc ((size_t)m->n_members + 1, sizeof *placed);
  if (placed == NULL)
    return FW_NO_MEMORY;
  int n = 0;
  for (bool moved = true; moved && n < m->n_members;)
    {
      moved = false;
      for (int i = 0; i < m->n_members; i++)
        {
          const FwMember *member = &m->members[i];
          int anchor = anchor_member (m, member);
          bool ready = (member->parent < 0 || placed[member->parent]) && (anchor < 0 || placed[anchor]);
          if (placed[i] || !ready)
            continue;
          placed[i] = moved = true;
          m->order[n++] = i;
        }
    }
  FwStatus status = FW_OK;
  for (int i = 0; i < m->n_members && status == FW_OK; i++)
    if (!placed[i])
      status = refuse (b, FW_RING, 'r', rod_in_ring (m, placed, i), NULL);
  free (placed);
  return status;
}

/* The hanging member, not itself on a hanging one, that this one finds its rest with. */
static int
hanging_root (const FwMechanism *m, int member)
{
  while (m->members[member].hangs_with_parent)
    member = m->members[member].parent;
  return member;
}

/* Moves the members of each hanging group up to follow the one that carries them: they wait for
 * nothing but their parents, so the order stays good. */
static FwStatus
gather_hanging (FwMechanism *m)
{
  int *old = malloc (sizeof (int) * ((size_t)m->n_members + 1));
  if (old == NULL)
    return FW_NO_MEMORY;
  for (int k = 0; k < m->n_members; k++)
    old[k] = m->order[k];
  int n = 0;
  for (int k = 0; k < m->n_members; k++)
    {
      FwMember *member = &m->members[old[k]];
      if (member->hangs_with_parent)
        continue;
      m->order[n++] = old[k];
      if (member->rod >= 0)
        continue;
      member->hanging_group = 1;
      for (int j = k + 1; j < m->n_members; j++)
        if (m->members[old[j]].hangs_with_parent && hanging_root (m, old[j]) == old[k])
          {
            m->order[n++] = old[j];
            member->hanging_group++;
          }
    }
  free (old);
  return FW_OK;
}

/* Mass and first moment of what turns with a hanging member: its own, and the ends of rods it
 * carries. A weightless panel hangs as the thin sheet that its outline says it is. */
static void
weigh (FwMechanism *m, FwMember *member)
{
  const FwPanel *p = &m->design->panels[member->panel];
  double area = 0, mu = 0, mv = 0;
  for (int i = 0; i < p->n_outline; i++)
    {
      FwVec2 a = p->outline_mm[i], c = p->outline_mm[(i + 1) % p->n_outline];
      double cross = a.x * c.y - a.y * c.x;
      area += cross / 2;
      mu += cross * (a.x + c.x) / 6;
      mv += cross * (a.y + c.y) / 6;
    }
  if (p->has_mass)
    {
      member->mass_g = p->mass_g;
      member->moment_gmm = fw_vec3_scale (p->centre_mm, p->mass_g);
    }
  if (!p->has_mass || p->mass_g == 0)
    {
      double gram_per_mm2 = p->has_mass || p->areal_gm2 == 0 ? 1e-9 : p->areal_gm2 * 1e-6;
      gram_per_mm2 = area < 0 ? -gram_per_mm2 : gram_per_mm2;
      member->mass_g = area * gram_per_mm2;
      member->moment_gmm = fw_vec3 (mu * gram_per_mm2, mv * gram_per_mm2, 0);
    }
  for (int i = 0; i < m->n_links; i++)
    {
      const FwLink *link = &m->links[i];
      double half = m->design->rods[link->rod].mass_g / 2;
      if (link->from != FW_FROM_PANEL || &m->members[link->index] != member)
        continue;
      member->mass_g += half;
      member->moment_gmm = fw_vec3_along (member->moment_gmm, half, link->from_mm);
    }
}

static FwStatus
build_all (Builder *b)
{
  FwMechanism *m = b->m;
  FwStatus valid = fw_validate (m->design, b->fault);
  if (valid != FW_OK)
    return valid;
  build_pins (b);
  // cppcheck-suppress uninitvar ; set here
  FwStatus (*const steps[]) (Builder *) = { build_members, find_parents, build_links, find_order };
  for (int i = 0; i < 4; i++)
    {
      FwStatus status = steps[i](b);
      if (status != FW_OK)
        return status;
    }
  m->body_pin = m->design->body.ride == FW_RIDE_FIXED ? -1 : b->pin_of[m->design->body.throw_index];
  m->body_root = 1;
  for (int i = 0; i < m->n_members; i++)
    {
      FwMember *member = &m->members[i];
      build_hinge (b, member);
      if (member->rod >= 0)
        continue;
      weigh (m, member);
      member->hangs_with_parent = member->parent >= 0 && m->members[member->parent].rod < 0;
    }
  FwStatus status = gather_hanging (m);
  if (status != FW_OK)
    return status;
  status = fw_build_coils (m, b->fault);
  if (status != FW_OK)
    return status;
  fw_find_mirrors (m);
  return fw_assemble (m);
}

static size_t
at_least_one (int n)
{
  return n > 0 ? (size_t)n : 1;
}

FwStatus
fw_mechanism_build (const FwDesign *design, FwMechanism **out, FwFault *fault)
{
  FwMechanism *m = calloc (1, sizeof *m);
  if (m == NULL)
    return FW_NO_MEMORY;
  Builder b = { .m = m, .fault = fault };
  m->design = fw_design_copy (design);
  m->pins = calloc (at_least_one (2 * design->crank.n_throws), sizeof *m->pins);
  m->members = calloc (at_least_one (2 * design->n_panels), sizeof *m->members);
  m->links = calloc (at_least_one (2 * design->n_rods), sizeof *m->links);
  m->coils = calloc (at_least_one (2 * design->n_springs), sizeof *m->coils);
  m->order = calloc (at_least_one (2 * design->n_panels), sizeof *m->order);
  b.panels = calloc (at_least_one (design->n_panels), sizeof *b.panels);
  b.pin_of = calloc (at_least_one (design->crank.n_throws), sizeof *b.pin_of);
  bool complete = m->design != NULL && m->pins != NULL && m->members != NULL && m->links != NULL
                  && m->coils != NULL && m->order != NULL && b.panels != NULL && b.pin_of != NULL;
  FwStatus status = complete ? build_all (&b) : FW_NO_MEMORY;
  free (b.panels);
  free (b.pin_of);
  if (status == FW_OK)
    *out = m;
  else
    fw_mechanism_free (m);
  return status;
}

void
fw_mechanism_free (FwMechanism *m)
{
  if (m == NULL)
    return;
  for (int i = 0; i < m->n_members && m->members != NULL; i++)
    free (m->members[i].name);
  for (int i = 0; i < m->n_links && m->links != NULL; i++)
    free (m->links[i].name);
  for (int i = 0; i < m->n_coils && m->coils != NULL; i++)
    free (m->coils[i].name);
  free (m->coils);
  free (m->pins);
  free (m->members);
  free (m->links);
  free (m->order);
  fw_design_free (m->design);
  free (m);
}

const char *
fw_status_text (FwStatus status)
{
  switch (status)
    {
    case FW_OK:
      return "in order";
    case FW_NO_MEMORY:
      return "out of memory";
    case FW_BAD_NUMBER:
      return "a number is not finite or outside what the model allows";
    case FW_BAD_REFERENCE:
      return "refers to a part that is not there, or not on that side";
    case FW_RING:
      return "rods drive each other in a ring";
    case FW_TWO_RODS:
      return "a second rod drives the same panel";
    case FW_ON_HANGING:
      return "a spring is held by a panel that hangs";
    }
  return "";
}
