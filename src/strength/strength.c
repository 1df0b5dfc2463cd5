#include "strength/strength.h"

#include <stdlib.h>
#include <string.h>

#define STEPS FW_STRENGTH_STEPS
#define METRE 0.001
#define TURN 6.28318530717958647692

static void
add_part (FwStrength *s, FwPartKind kind, int index, double allowed, bool pushed)
{
  double **next = &s->rows;
  FwPartStrength *p = &s->parts[s->n_parts++];
  *p = (FwPartStrength){ .part = { kind, index }, .allowed = allowed };
  p->stresses = *next;
  p->swings = *next + STEPS;
  p->pushes = pushed ? *next + 2 * STEPS : NULL;
  *next += 3 * STEPS;
}

static void
list_parts (FwStrength *s)
{
  const FwMechanism *mech = s->mechanism;
  double *start = s->rows;
  if (s->crank->status == FW_FRAME_OK)
    add_part (s, FW_PART_CRANK, 0, s->crank->allowed, false);
  if (s->post.known)
    add_part (s, FW_PART_BODY, 0, s->post.allowed, true);
  for (int i = 0; i < mech->n_links; i++)
    if (s->rods[i].known)
      add_part (s, FW_PART_LINK, i, s->rods[i].allowed, true);
  for (int i = 0; i < mech->n_members; i++)
    if (s->strips[i].known)
      add_part (s, FW_PART_MEMBER, i, s->strips[i].allowed, false);
  s->rows = start;
}

FwStrength *
fw_strength_new (const FwMechanism *mech)
{
  FwStrength *s = calloc (1, sizeof *s);
  if (s == NULL)
    return NULL;
  size_t pins = (size_t)mech->n_pins + 1, links = (size_t)mech->n_links + 1,
         members = (size_t)mech->n_members + 1;
  size_t most = 2 + links + members, bearings = 1;
  s->mechanism = mech;
  s->crank = fw_crank_flex_new (mech);
  if (s->crank != NULL)
    bearings += (size_t)s->crank->n_bearings;
  s->parts = calloc (most, sizeof *s->parts);
  s->rods = calloc (links, sizeof *s->rods);
  s->strips = calloc (members, sizeof *s->strips);
  s->pin_sag = calloc (pins, sizeof *s->pin_sag);
  s->pin_wind_up = calloc (pins, sizeof *s->pin_wind_up);
  s->bearings = calloc (bearings, sizeof *s->bearings);
  s->lags = calloc (pins * STEPS, sizeof (double));
  s->masses = calloc (pins, sizeof (double));
  s->slowness = calloc (most, sizeof (double));
  s->rows = calloc (3 * STEPS * most, sizeof (double));
  if (s->crank == NULL || s->parts == NULL || s->rods == NULL || s->strips == NULL
      || s->pin_sag == NULL || s->pin_wind_up == NULL || s->bearings == NULL || s->lags == NULL
      || s->masses == NULL || s->slowness == NULL || s->rows == NULL)
    {
      fw_strength_free (s);
      return NULL;
    }
  s->post = fw_post_flex (mech);
  for (int i = 0; i < mech->n_links; i++)
    s->rods[i] = fw_rod_flex (mech, i);
  for (int i = 0; i < mech->n_members; i++)
    fw_strip_flex (&s->strips[i], mech, i);
  list_parts (s);
  return s;
}

void
fw_strength_free (FwStrength *s)
{
  if (s == NULL)
    return;
  fw_crank_flex_free (s->crank);
  free (s->parts);
  free (s->rods);
  free (s->strips);
  free (s->pin_sag);
  free (s->pin_wind_up);
  free (s->bearings);
  free (s->lags);
  free (s->masses);
  free (s->slowness);
  free (s->rows);
  free (s);
}

/* One step of the turn, and what the parts say of it. */
typedef struct
{
  FwStrength *s;
  const FwMechanism *mech;
  const FwPose *pose;
  const FwLoads *loads;
  double speed, crank;
  int step;
} Step;

static void
keep_size (FwPeak *peak, double value, double crank)
{
  if (fabs (value) > fabs (peak->value) || isnan (peak->value))
    *peak = (FwPeak){ value, crank };
}

static void
keep_most (FwPeak *peak, double value, double crank)
{
  if (value > peak->value || isnan (peak->value))
    *peak = (FwPeak){ value, crank };
}

static void
keep_push (FwPartStrength *p, const Step *at, double push, double bears)
{
  p->pushes[at->step] = push / bears;
  if (push > p->push.value || isnan (p->push.value))
    p->bears = bears;
  keep_most (&p->push, push, at->crank);
}

static void
look_at_crank (const Step *at, FwPartStrength *p)
{
  FwCrankFlex *flex = at->s->crank;
  fw_crank_flex_load (flex, at->loads->pins, cos (at->crank), sin (at->crank), at->speed);
  for (int i = 0; i < flex->n_pins; i++)
    {
      double sag = fw_crank_flex_sag (flex, i), radius = flex->pins[i].radius_mm * METRE;
      keep_size (&at->s->pin_sag[i], sag, at->crank);
      keep_size (&at->s->pin_wind_up[i], fw_crank_flex_wind_up (flex, i), at->crank);
      keep_size (&p->sag, sag, at->crank);
      at->s->lags[i * STEPS + at->step] = fw_crank_flex_lag (flex, i) * radius;
    }
  for (int i = 0; i < flex->n_bearings; i++)
    {
      double h, z;
      keep_size (&at->s->bearings[i], fw_crank_flex_reaction (flex, i, &h, &z), at->crank);
    }
  p->stresses[at->step] = fw_crank_flex_stress (flex, NULL);
  fw_masses_at_pins (at->mech, at->pose, at->loads, at->s->masses);
}

static void
look_at_post (const Step *at, FwPartStrength *p, double *slowness)
{
  const FwPostFlex *post = &at->s->post;
  FwPostBend b = fw_post_bend (post, at->mech, at->pose, at->loads);
  p->stresses[at->step] = b.stress;
  p->swings[at->step] = b.sag;
  keep_size (&p->sag, hypot (b.sag, b.side_sag), at->crank);
  keep_push (p, at, b.push, b.bears);
  *slowness += post->strut ? 0 : fw_slowness_post (post, &b, at->mech, at->pose, at->loads);
}

static void
look_at_rod (const Step *at, FwPartStrength *p)
{
  int i = p->part.index;
  const FwRodFlex *rod = &at->s->rods[i];
  FwRodBend b = fw_rod_bend (rod, at->mech, at->pose, i, at->loads->tension[i], at->speed);
  p->stresses[at->step] = b.stress;
  p->swings[at->step] = b.swing;
  keep_size (&p->sag, b.bow, at->crank);
  keep_push (p, at, b.push, rod->euler);
}

static void
look_at_panel (const Step *at, FwPartStrength *p, double *slowness)
{
  int i = p->part.index, link = at->mech->members[i].rod;
  FwStripBend b = fw_strip_bend (&at->s->strips[i], at->pose, at->loads, i, at->speed);
  p->stresses[at->step] = b.stress;
  p->swings[at->step] = b.sag;
  keep_size (&p->sag, b.sag, at->crank);
  if (at->s->rods[link].known)
    *slowness += fw_slowness_on_rod (&at->s->rods[link], at->mech, at->pose, at->loads, i);
}

static void
open_step (const Step *at, FwPartStrength *p)
{
  p->stresses[at->step] = p->swings[at->step] = NAN;
  if (p->pushes != NULL)
    p->pushes[at->step] = NAN;
  for (int i = 0; i < at->mech->n_pins; i++)
    at->s->lags[i * STEPS + at->step] = NAN;
}

static void
look (const Step *at)
{
  for (int i = 0; i < at->s->n_parts; i++)
    {
      FwPartStrength *p = &at->s->parts[i];
      if (!at->loads->known)
        open_step (at, p);
      else if (p->part.kind == FW_PART_CRANK)
        look_at_crank (at, p);
      else if (p->part.kind == FW_PART_BODY)
        look_at_post (at, p, &at->s->slowness[i]);
      else if (p->part.kind == FW_PART_LINK)
        look_at_rod (at, p);
      else
        look_at_panel (at, p, &at->s->slowness[i]);
      keep_most (&p->stress, p->stresses[at->step], at->crank);
    }
}

static void
forget (FwStrength *s)
{
  const FwPeak none = { NAN, 0 };
  for (int i = 0; i < s->n_parts; i++)
    {
      FwPartStrength *p = &s->parts[i];
      p->sag = p->stress = p->push = none;
      p->bears = p->natural = 0;
      s->slowness[i] = 0;
    }
  for (int i = 0; i < s->mechanism->n_pins; i++)
    {
      s->pin_sag[i] = s->pin_wind_up[i] = none;
      s->masses[i] = 0;
    }
  for (int i = 0; i < s->crank->n_bearings; i++)
    s->bearings[i] = none;
}

static double
swing_of (const double *row)
{
  double low = row[0], high = row[0];
  for (int i = 1; i < STEPS; i++)
    {
      low = fmin (low, row[i]);
      high = fmax (high, row[i]);
    }
  return high - low;
}

/* The pin that moves most along its circle stands for the crank. */
static void
choose_lag (FwStrength *s, FwPartStrength *p)
{
  int most = 0;
  for (int i = 1; i < s->mechanism->n_pins; i++)
    if (swing_of (s->lags + i * STEPS) > swing_of (s->lags + most * STEPS))
      most = i;
  memcpy (p->swings, s->lags + most * STEPS, STEPS * sizeof (double));
}

static double
natural_of (FwStrength *s, int part, const FwLoads *loads, int known)
{
  FwPartStrength *p = &s->parts[part];
  double slowness = s->slowness[part] / known;
  if (p->part.kind == FW_PART_CRANK)
    {
      for (int i = 0; i < s->mechanism->n_pins; i++)
        s->masses[i] /= known;
      choose_lag (s, p);
      return fw_natural_crank (s->crank, s->masses);
    }
  if (p->part.kind == FW_PART_BODY)
    return slowness > 0 ? 1 / sqrt (slowness) : 0;
  if (p->part.kind == FW_PART_LINK)
    {
      const FwRodFlex *rod = &s->rods[p->part.index];
      return rod->per_length > 0 ? fw_supported_frequency (rod->bending, rod->length,
                                                           rod->per_length, -p->push.value)
                                 : 0;
    }
  double bending = fw_natural_strip (&s->strips[p->part.index], s->mechanism, loads);
  return 1 / sqrt (slowness + 1 / (bending * bending));
}

void
fw_strength_begin (FwStrength *s, double speed)
{
  forget (s);
  s->speed = speed;
  s->n_open = 0;
}

void
fw_strength_step (FwStrength *s, const FwPose *pose, const FwLoads *loads, int step)
{
  const Step at = { s, s->mechanism, pose, loads, s->speed, TURN * step / STEPS, step };
  s->n_open += loads->known ? 0 : 1;
  look (&at);
}

void
fw_strength_end (FwStrength *s, const FwLoads *loads)
{
  int known = STEPS - s->n_open;
  for (int i = 0; i < s->n_parts && known > 0; i++)
    {
      FwPartStrength *p = &s->parts[i];
      p->natural = natural_of (s, i, loads, known);
      p->swing = p->natural > 0 ? fw_swing (p->swings, STEPS, s->speed, p->natural, FW_DAMPING)
                                : (FwSwing){ 0 };
    }
}

void
fw_strength_solve (FwStrength *s, const FwLoadTurn *turn)
{
  fw_strength_begin (s, turn->speed);
  for (int i = 0; i < STEPS; i++)
    {
      fw_pose_solve (turn->pose, s->mechanism, TURN * i / STEPS);
      fw_loads_solve (turn->loads, s->mechanism, turn->pose, turn->speed);
      fw_strength_step (s, turn->pose, turn->loads, i);
    }
  fw_strength_end (s, turn->loads);
}
