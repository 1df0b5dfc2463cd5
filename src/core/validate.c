/* Whether the numbers of a design can be computed with, and its references lead somewhere. */
#include "core/validate.h"

static FwStatus
refuse (FwFault *fault, FwStatus status, char kind, int index, const char *what)
{
  if (fault != NULL)
    *fault = (FwFault) { kind, index, what };
  return status;
}

static bool
finite3 (FwVec3 v)
{
  return isfinite (v.x) && isfinite (v.y) && isfinite (v.z);
}

static FwStatus
check_throws (const FwDesign *d, FwFault *fault)
{
  const FwCrank *crank = &d->crank;
  for (int i = 0; i < crank->n_throws; i++)
    {
      const FwThrow *t = &crank->throws[i];
      if (!isfinite (t->radius_mm) || t->radius_mm < 0)
        return refuse (fault, FW_BAD_NUMBER, 't', i, "radius");
      if (!isfinite (t->phase_deg))
        return refuse (fault, FW_BAD_NUMBER, 't', i, "phase");
      if (!isfinite (t->station_mm))
        return refuse (fault, FW_BAD_NUMBER, 't', i, "station");
    }
  return FW_OK;
}

static FwStatus
check_body (const FwDesign *d, FwFault *fault)
{
  const FwBody *body = &d->body;
  if (body->ride != FW_RIDE_FIXED && (body->throw_index < 0 || body->throw_index >= d->crank.n_throws))
    return refuse (fault, FW_BAD_REFERENCE, 'b', 0, "throw");
  bool on_post = body->ride == FW_RIDE_SLEEVE || body->ride == FW_RIDE_ROCKER;
  if (on_post && (!isfinite (body->post_mm) || body->post_mm <= 0))
    return refuse (fault, FW_BAD_NUMBER, 'b', 0, "post");
  switch (body->ride)
    {
    case FW_RIDE_FIXED:
      if (!finite3 (body->at_mm))
        return refuse (fault, FW_BAD_NUMBER, 'b', 0, "at");
      return isfinite (body->tilt_deg) ? FW_OK : refuse (fault, FW_BAD_NUMBER, 'b', 0, "tilt");
    case FW_RIDE_RAIL:
      if (!isfinite (body->rod_mm) || body->rod_mm <= 0)
        return refuse (fault, FW_BAD_NUMBER, 'b', 0, "rod");
      return isfinite (body->offset_mm) ? FW_OK : refuse (fault, FW_BAD_NUMBER, 'b', 0, "offset");
    case FW_RIDE_SLEEVE:
      if (!isfinite (body->guide_mm.x) || !isfinite (body->guide_mm.y))
        return refuse (fault, FW_BAD_NUMBER, 'b', 0, "guide");
      return FW_OK;
    case FW_RIDE_ROCKER:
      break;
    }
  if (!isfinite (body->pivot_mm.x) || !isfinite (body->pivot_mm.y))
    return refuse (fault, FW_BAD_NUMBER, 'b', 0, "link.pivot");
  if (!isfinite (body->link_mm) || body->link_mm <= 0)
    return refuse (fault, FW_BAD_NUMBER, 'b', 0, "link.length");
  if (!isfinite (body->on_mm) || body->on_mm <= 0)
    return refuse (fault, FW_BAD_NUMBER, 'b', 0, "link.on");
  return FW_OK;
}

/* A panel may hang on itself through others: follow it down, no longer than there are panels. */
static bool
reaches_body (const FwDesign *d, int panel)
{
  for (int steps = 0; steps <= d->n_panels; steps++)
    {
      if (panel == FW_ON_BODY)
        return true;
      panel = d->panels[panel].on;
    }
  return false;
}

static FwStatus
check_panels (const FwDesign *d, FwFault *fault)
{
  for (int i = 0; i < d->n_panels; i++)
    {
      const FwPanel *p = &d->panels[i];
      if (p->on < FW_ON_BODY || p->on >= d->n_panels)
        return refuse (fault, FW_BAD_REFERENCE, 'p', i, "on");
      if (!finite3 (p->hinge_mm))
        return refuse (fault, FW_BAD_NUMBER, 'p', i, "hinge");
      if (!isfinite (p->sweep_deg))
        return refuse (fault, FW_BAD_NUMBER, 'p', i, "sweep");
      if (!isfinite (p->cant_deg))
        return refuse (fault, FW_BAD_NUMBER, 'p', i, "cant");
      if (!isfinite (p->span_mm) || p->span_mm <= 0)
        return refuse (fault, FW_BAD_NUMBER, 'p', i, "span");
      if (p->has_stops && !(p->stops_deg[0] < p->stops_deg[1]))
        return refuse (fault, FW_BAD_NUMBER, 'p', i, "stops");
      if (!isfinite (p->mass_g) || p->mass_g < 0)
        return refuse (fault, FW_BAD_NUMBER, 'p', i, "mass");
      if (!finite3 (p->centre_mm))
        return refuse (fault, FW_BAD_NUMBER, 'p', i, "centre");
    }
  for (int i = 0; i < d->n_panels; i++)
    if (!reaches_body (d, i))
      return refuse (fault, FW_BAD_REFERENCE, 'p', i, "on");
  return FW_OK;
}

static FwStatus
check_rods (const FwDesign *d, FwFault *fault)
{
  for (int i = 0; i < d->n_rods; i++)
    {
      const FwRod *r = &d->rods[i];
      int bound = r->from.kind == FW_FROM_THROW   ? d->crank.n_throws
                  : r->from.kind == FW_FROM_PANEL ? d->n_panels
                                                  : 1;
      bool named = r->from.kind == FW_FROM_THROW || r->from.kind == FW_FROM_PANEL;
      if (named && (r->from.index < 0 || r->from.index >= bound))
        return refuse (fault, FW_BAD_REFERENCE, 'r', i, "from");
      if (r->panel < 0 || r->panel >= d->n_panels)
        return refuse (fault, FW_BAD_REFERENCE, 'r', i, "to");
      if (!finite3 (r->at_mm))
        return refuse (fault, FW_BAD_NUMBER, 'r', i, "to.at");
      if (r->from.kind != FW_FROM_THROW && !finite3 (r->from.at_mm))
        return refuse (fault, FW_BAD_NUMBER, 'r', i, "from");
      if (!isfinite (r->length_mm) || r->length_mm <= 0)
        return refuse (fault, FW_BAD_NUMBER, 'r', i, "length");
      if (!isfinite (r->near_deg))
        return refuse (fault, FW_BAD_NUMBER, 'r', i, "near");
    }
  return FW_OK;
}

static bool
good_end (const FwDesign *d, const FwAnchor *end)
{
  bool panel = end->kind == FW_FROM_PANEL, there = end->index >= 0 && end->index < d->n_panels;
  return end->kind != FW_FROM_THROW && finite3 (end->at_mm) && (!panel || there);
}

static FwStatus
check_springs (const FwDesign *d, FwFault *fault)
{
  for (int i = 0; i < d->n_springs; i++)
    {
      const FwSpringPart *s = &d->springs[i];
      if (!isfinite (s->rate_Npmm) || s->rate_Npmm <= 0)
        return refuse (fault, FW_BAD_NUMBER, 'e', i, "rate");
      if (!isfinite (s->free_mm) || s->free_mm < 0)
        return refuse (fault, FW_BAD_NUMBER, 'e', i, "free");
      if (!good_end (d, &s->from))
        return refuse (fault, FW_BAD_REFERENCE, 'e', i, "from");
      if (!good_end (d, &s->to))
        return refuse (fault, FW_BAD_REFERENCE, 'e', i, "to");
    }
  for (int i = 0; i < d->crank.n_weights; i++)
    {
      const FwCrankWeight *w = &d->crank.weights[i];
      if (!isfinite (w->mass_g) || w->mass_g < 0)
        return refuse (fault, FW_BAD_NUMBER, 'w', i, "mass");
      if (!isfinite (w->radius_mm) || w->radius_mm < 0)
        return refuse (fault, FW_BAD_NUMBER, 'w', i, "radius");
      if (!isfinite (w->phase_deg))
        return refuse (fault, FW_BAD_NUMBER, 'w', i, "phase");
      if (!isfinite (w->station_mm))
        return refuse (fault, FW_BAD_NUMBER, 'w', i, "station");
    }
  return FW_OK;
}

FwStatus
fw_validate (const FwDesign *d, FwFault *fault)
{
  // cppcheck-suppress uninitvar ; set here
  FwStatus (*const checks[]) (const FwDesign *, FwFault *) = { check_throws, check_body, check_panels, check_rods, check_springs };
  FwStatus status = FW_OK;
  for (int i = 0; i < 5 && status == FW_OK; i++)
    status = checks[i](d, fault);
  return status;
}
