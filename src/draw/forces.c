#include "draw/forces.h"
#include "draw/layout.h"

#define LONGEST 0.17 /* of the page's shorter side */
#define LEAST 1.5    /* px, times wide: shorter is not drawn */
#define BAR_GAP FW_BAR_GAP

typedef struct
{
  const FwDrawing *d;
  const FwMechanism *m;
  const FwPose *pose;
  const FwLoads *loads;
  const FwStyle *style;
  double scale; /* px per N */
  FwArrow *list;
  int n, capacity;
} Arrows;

/* ---- Scale ---- */

static double
row_peak (const FwScene *s, FwLoad load)
{
  const double *row = fw_load_turn_row (s->loads, s->mechanism, load);
  double most = 0;
  for (int i = 0; i < s->loads->steps; i++)
    most = fmax (most, isfinite (row[i]) ? fabs (row[i]) : 0);
  return most;
}

double
fw_arrow_peak (const FwScene *s)
{
  double most = 0;
  int n = s->loads == NULL ? 0 : fw_load_count (s->mechanism);
  for (int i = 0; i < n; i++)
    {
      FwLoad load = fw_load_nth (s->mechanism, i);
      if (load.kind != FW_LOAD_TORQUE && load.kind != FW_LOAD_HINGE)
        most = fmax (most, row_peak (s, load));
    }
  for (int i = 0; s->loads != NULL && i < s->bearings.n * s->bearings.steps; i++)
    {
      double size = fw_vec3_length (s->bearings.forces[i]);
      most = fmax (most, isfinite (size) ? size : 0);
    }
  return most;
}

double
fw_arrow_scale (const FwScene *s, FwBox page)
{
  if (s->arrow_px > 0)
    return s->arrow_px;
  double peak = s->arrow_N > 0 ? s->arrow_N : fw_arrow_peak (s);
  return peak > 1e-9 ? LONGEST * fmin (page.width, page.height) / peak : 0;
}

/* ---- One arrow ---- */

static FwVec2
page_force (const Arrows *a, FwVec3 force)
{
  FwVec2 px = fw_camera_project_vector (&a->d->camera, force);
  double f = a->scale / a->d->camera.scale;
  return fw_vec2 (px.x * f, px.y * f);
}

/* What stands where another stands already, as twins do from the side, is not drawn again. */
static gboolean
is_there (const Arrows *a, const FwArrow *arrow)
{
  for (int i = 0; i < a->n; i++)
    if (a->list[i].kind == arrow->kind && a->list[i].bar == arrow->bar
        && fw_vec2_distance (a->list[i].from, arrow->from) < 2 * a->style->wide
        && fw_vec2_distance (a->list[i].to, arrow->to) < 2 * a->style->wide)
      return TRUE;
  return FALSE;
}

static void
add (Arrows *a, FwArrow arrow)
{
  double length = fw_vec2_distance (arrow.from, arrow.to);
  if (!(length > (arrow.bar ? 2 * (LEAST + BAR_GAP) : LEAST) * a->style->wide) || length > 1e5 || a->n >= a->capacity
      || is_there (a, &arrow))
    return;
  arrow.seen_N = (arrow.bar ? length / 2 - BAR_GAP * a->style->wide : length) / a->scale;
  a->list[a->n++] = arrow;
}

/* Where a pair of arrows would lie too near another to be told from it. */
static gboolean
is_crowded (const Arrows *a, FwVec2 from, FwVec2 to)
{
  double room = 4.5 * a->style->wide;
  for (int i = 0; i < a->n; i++)
    {
      const FwArrow *other = &a->list[i];
      if (fw_page_segment_distance (from, other->from, other->to) < room
          || fw_page_segment_distance (to, other->from, other->to) < room
          || fw_page_segment_distance (other->from, from, to) < room
          || fw_page_segment_distance (other->to, from, to) < room)
        return TRUE;
    }
  return FALSE;
}

/* Beside a bar, about its middle, on the side away from the mid-plane; where that is taken, on the
 * other side, or farther out. */
static void
add_bar (Arrows *a, FwPart part, FwVec3 p, FwVec3 q, double tension, double thick_mm, gboolean twin)
{
  FwVec2 from = fw_drawing_project (a->d, p), to = fw_drawing_project (a->d, q);
  double length = fw_vec2_distance (from, to), real = fw_vec3_distance (p, q) * a->d->camera.scale;
  if (!isfinite (tension) || length < 4 * a->style->wide)
    return;
  FwVec2 dir = fw_vec2 ((to.x - from.x) / length, (to.y - from.y) / length);
  FwVec2 off = fw_vec2 (-dir.y, dir.x), middle = fw_vec2_mix (from, to, 0.5);
  if (off.x * (middle.x - a->d->camera.x) < 0)
    off = fw_vec2 (-off.x, -off.y);
  double away = thick_mm / 2 * a->d->camera.scale + 5.5 * a->style->wide;
  double half = fabs (tension) * a->scale * length / fmax (real, 1e-9) + BAR_GAP * a->style->wide;
  static const double tries[4] = { 1, -1, 1.9, -1.9 };
  FwArrow arrow = { .kind = tension > 0 ? FW_ARROW_PULL : FW_ARROW_PUSH,
                    .part = part,
                    .force_N = fabs (tension),
                    .bar = TRUE,
                    .twin = twin };
  for (int i = 0; i < 4; i++)
    {
      double side = tries[i] > 0 ? 1 : -1;
      FwVec2 c = fw_vec2 (middle.x + tries[i] * away * off.x, middle.y + tries[i] * away * off.y);
      arrow.from = fw_vec2 (c.x - half * dir.x, c.y - half * dir.y);
      arrow.to = fw_vec2 (c.x + half * dir.x, c.y + half * dir.y);
      arrow.off = fw_vec2 (side * off.x, side * off.y);
      if (is_there (a, &arrow) || !is_crowded (a, arrow.from, arrow.to))
        break;
    }
  add (a, arrow);
}

/* At a point, on the side that `free` says: away from it where the force points that way, else into it. */
static void
add_at (Arrows *a, FwPart part, FwVec3 point, FwVec3 force, FwVec2 free, double gap, gboolean twin)
{
  FwVec2 at = fw_drawing_project (a->d, point), f = page_force (a, force);
  double length = hypot (f.x, f.y);
  if (!(length > 0))
    return;
  FwVec2 dir = fw_vec2 (f.x / length, f.y / length);
  gboolean push = dir.x * free.x + dir.y * free.y >= 0;
  double near = push ? gap : -gap;
  FwVec2 a1 = fw_vec2 (at.x + near * dir.x, at.y + near * dir.y);
  FwVec2 a2 = push ? fw_vec2 (a1.x + f.x, a1.y + f.y) : fw_vec2 (a1.x - f.x, a1.y - f.y);
  add (a, (FwArrow){ .kind = push ? FW_ARROW_PUSH : FW_ARROW_PULL,
                     .part = part,
                     .force_N = fw_vec3_length (force),
                     .from = push ? a1 : a2,
                     .to = push ? a2 : a1,
                     .off = fw_vec2 (push ? dir.x : -dir.x, push ? dir.y : -dir.y),
                     .twin = twin });
}

/* ---- The parts ---- */

static void
add_rods (Arrows *a)
{
  for (int i = 0; i < a->m->n_links; i++)
    {
      const FwLink *link = &a->m->links[i];
      const FwRod *rod = &a->m->design->rods[link->rod];
      add_bar (a, (FwPart){ FW_PART_LINK, i }, a->pose->links[i].from.at, a->pose->links[i].to.at,
               a->loads->tension[i], rod->diameter_mm, link->left && rod->side == FW_SIDE_BOTH);
    }
}

static FwVec3
post_point (const Arrows *a, double from_pin_mm)
{
  FwVec3 pin = a->pose->pins[a->m->body_pin].at, datum = a->pose->body.motion.at.origin;
  double length = fmax (fw_vec3_distance (pin, datum), 1e-9);
  return fw_vec3_along (pin, from_pin_mm / length, fw_vec3_sub (datum, pin));
}

/* The post or rail rod along itself, and what guides it. */
static void
add_post (Arrows *a)
{
  const FwBody *body = &a->m->design->body;
  const FwPart part = { FW_PART_BODY, 0 };
  if (a->m->body_pin < 0)
    return;
  FwVec3 pin = post_point (a, 0), datum = a->pose->body.motion.at.origin;
  FwVec3 along = fw_vec3_sub (datum, pin);
  double length = fmax (fw_vec3_length (along), 1e-9);
  double push = fw_vec3_dot (a->loads->post_pin, along) / length;
  double held = body->ride == FW_RIDE_SLEEVE   ? a->pose->body.guide_mm
                : body->ride == FW_RIDE_ROCKER ? body->on_mm
                                               : length;
  add_bar (a, part, pin, post_point (a, held), -push, body->diameter_mm, FALSE);
  if (body->ride == FW_RIDE_ROCKER)
    {
      FwVec3 pivot = fw_vec3_add (
          fw_vec3_scale (fw_crank_h (a->m->design->crank.runs), body->pivot_mm.x),
          fw_vec3 (0, 0, body->pivot_mm.y));
      add_bar (a, part, pivot, post_point (a, held), a->loads->guide, body->diameter_mm, FALSE);
      return;
    }
  FwVec2 f = page_force (a, a->loads->carrier.force);
  add_at (a, part, post_point (a, held), a->loads->carrier.force, f,
          body->diameter_mm / 2 * a->d->camera.scale + 2 * a->style->wide, FALSE);
}

/* Away from the middle of all that the pin carries. */
static FwVec2
free_side (const Arrows *a, int pin)
{
  FwVec3 sum = { 0, 0, 0 };
  int n = 0;
  for (int i = 0; i < a->m->n_links; i++)
    if (a->m->links[i].from == FW_FROM_THROW && a->m->links[i].index == pin)
      {
        sum = fw_vec3_add (sum, a->pose->links[i].to.at);
        n++;
      }
  if (a->m->body_pin == pin)
    {
      sum = fw_vec3_add (sum, a->pose->body.motion.at.origin);
      n++;
    }
  if (n == 0)
    return fw_vec2 (0, 1);
  FwVec2 at = fw_drawing_project (a->d, a->pose->pins[pin].at),
         far = fw_drawing_project (a->d, fw_vec3_scale (sum, 1.0 / n));
  double length = fmax (fw_vec2_distance (at, far), 1e-9);
  return fw_vec2 ((at.x - far.x) / length, (at.y - far.y) / length);
}

static void
add_crank (Arrows *a)
{
  const FwBearingLoads *b = &a->d->scene->bearings;
  const FwCrank *crank = &a->m->design->crank;
  double gap = crank->diameter_mm / 2 * a->d->camera.scale + 3 * a->style->wide;
  const FwPart part = { FW_PART_CRANK, 0 };
  for (int i = 0; i < a->m->n_pins; i++)
    add_at (a, part, a->pose->pins[i].at, fw_vec3_scale (a->loads->pins[i], -1), free_side (a, i),
            gap, a->m->pins[i].twin);
  FwVec3 axis = fw_crank_axis (crank->runs);
  if (fabs (fw_vec3_dot (axis, a->d->axes.toward)) > 0.97)
    return; /* seen from its end, all bearings are one */
  double at = a->pose->crank / (2 * G_PI);
  at = (at - floor (at)) * b->steps;
  for (int i = 0; i < b->n; i++)
    {
      int k = (int)at % b->steps;
      FwVec3 p = b->forces[i * b->steps + k], q = b->forces[i * b->steps + (k + 1) % b->steps];
      FwVec3 force = fw_vec3_along (p, at - floor (at), fw_vec3_sub (q, p));
      add_at (a, part, fw_vec3_scale (axis, b->stations_mm[i]), force, fw_vec2 (0, -1), gap, FALSE);
    }
}

static void
add_weights (Arrows *a)
{
  for (int i = -1; i < a->m->n_members; i++)
    {
      const FwInertia *own = &a->loads->inertia[i + 1];
      if (!(own->mass_g > 0))
        continue;
      const FwFrame *f = i < 0 ? &a->pose->body.motion.at : &a->pose->members[i].motion.at;
      FwVec3 centre = fw_frame_to_world (f, fw_vec3_scale (own->moment_gmm, 1 / own->mass_g));
      FwVec3 force = fw_vec3 (0, 0, -own->mass_g * 1e-3 * FW_GRAVITY);
      FwVec2 at = fw_drawing_project (a->d, centre), px = page_force (a, force);
      gboolean left = i >= 0 && a->m->members[i].left
                      && a->m->design->panels[a->m->members[i].panel].side == FW_SIDE_BOTH;
      add (a, (FwArrow){ .kind = FW_ARROW_WEIGHT,
                         .part = { i < 0 ? FW_PART_BODY : FW_PART_MEMBER, MAX (i, 0) },
                         .force_N = own->mass_g * 1e-3 * FW_GRAVITY,
                         .from = at,
                         .to = fw_vec2 (at.x + px.x, at.y + px.y),
                         .off = { 0, 1 },
                         .twin = left });
    }
}

int
fw_force_arrows (const FwDrawing *d, const FwStyle *style, FwBox page, guint show, FwArrow *list,
                 int capacity)
{
  const FwScene *s = d->scene;
  Arrows a = { .d = d, .m = s->mechanism, .pose = s->pose, .style = style, .list = list,
               .capacity = capacity };
  if (s->loads == NULL || !(show & (FW_SHOW_FORCES | FW_SHOW_WEIGHTS)))
    return 0;
  a.loads = s->loads->loads;
  a.scale = fw_arrow_scale (s, fw_style_sheet (style, page));
  fw_loads_solve (s->loads->loads, a.m, a.pose, s->loads->speed);
  if (!a.loads->known || !(a.scale > 0))
    return 0;
  if (show & FW_SHOW_FORCES)
    {
      add_post (&a);
      add_rods (&a);
      add_crank (&a);
    }
  if (show & FW_SHOW_WEIGHTS)
    add_weights (&a);
  return a.n;
}
