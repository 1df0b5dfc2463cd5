#include "second_solver.h"

#include <glib.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_multiroots.h>
#include <math.h>
#include <string.h>

#define RAD (G_PI / 180)

/* ---- Frames ---- */

/* R = 1 + sin a K + (1 - cos a) K^2 */
static void
rodrigues (const double n[3], double a, double r[3][3])
{
  const double k[3][3] = { { 0, -n[2], n[1] }, { n[2], 0, -n[0] }, { -n[1], n[0], 0 } };
  double s = sin (a), c = 1 - cos (a);
  for (int i = 0; i < 3; i++)
    for (int j = 0; j < 3; j++)
      {
        double k2 = 0;
        for (int l = 0; l < 3; l++)
          k2 += k[i][l] * k[l][j];
        r[i][j] = (i == j) + s * k[i][j] + c * k2;
      }
}

static void
multiply (const double a[3][3], const double b[3][3], double out[3][3])
{
  double r[3][3];
  for (int i = 0; i < 3; i++)
    for (int j = 0; j < 3; j++)
      r[i][j] = a[i][0] * b[0][j] + a[i][1] * b[1][j] + a[i][2] * b[2][j];
  memcpy (out, r, sizeof r);
}

void
second_point (const SecondFrame *f, FwVec3 p, double w[3])
{
  for (int i = 0; i < 3; i++)
    w[i] = f->o[i] + f->m[i][0] * p.x + f->m[i][1] * p.y + f->m[i][2] * p.z;
}

/* The same frame with one axis turned round: what a left-hand member sees. */
static SecondFrame
mirrored (const SecondFrame *f, int column)
{
  SecondFrame r = *f;
  for (int i = 0; i < 3; i++)
    r.m[i][column] = -r.m[i][column];
  return r;
}

static bool
across (const SecondSolver *s)
{
  return s->design->crank.runs == FW_RUNS_ACROSS;
}

static void
pin (const SecondSolver *s, int index, bool left, double w[3])
{
  const FwThrow *t = &s->design->crank.throws[index];
  double angle = s->crank + t->phase_deg * RAD;
  double h = t->radius_mm * sin (angle);
  double station = left && t->both && across (s) ? -t->station_mm : t->station_mm;
  w[0] = across (s) ? station : h;
  w[1] = across (s) ? h : station;
  w[2] = t->radius_mm * cos (angle);
}

void
second_body (const SecondSolver *s, SecondFrame *f)
{
  const FwBody *b = &s->design->body;
  double tilt = b->ride == FW_RIDE_FIXED ? b->tilt_deg * RAD : s->x[2];
  /* Tilt turns z toward +h: about -x when the crank runs across, about +y when it runs along. */
  rodrigues (across (s) ? (double[]){ -1, 0, 0 } : (double[]){ 0, 1, 0 }, tilt, f->m);
  if (b->ride == FW_RIDE_FIXED)
    {
      f->o[0] = b->at_mm.x;
      f->o[1] = b->at_mm.y;
      f->o[2] = b->at_mm.z;
      return;
    }
  double station = s->design->crank.throws[b->throw_index].station_mm;
  f->o[0] = across (s) ? station : s->x[0];
  f->o[1] = across (s) ? s->x[0] : station;
  f->o[2] = s->x[1];
}

/* What a member's hinge is measured in. */
static SecondFrame
parent_frame (const SecondSolver *s, const SecondMember *m, const SecondFrame *body,
              const SecondFrame *members)
{
  if (m->parent < 0)
    return m->left ? mirrored (body, 0) : *body;
  const SecondMember *p = &s->members[m->parent];
  bool crosses = m->left && !p->left; /* a left member on a middle one: its v points along x */
  return crosses ? mirrored (&members[m->parent], 1) : members[m->parent];
}

static void
place_member (const SecondSolver *s, int i, const SecondFrame *body, SecondFrame *members)
{
  static const double side[3][3] = { { 1, 0, 0 }, { 0, 1, 0 }, { 0, 0, 1 } };
  static const double forward[3][3] = { { 0, -1, 0 }, { 1, 0, 0 }, { 0, 0, 1 } };
  static const double back[3][3] = { { 0, 1, 0 }, { -1, 0, 0 }, { 0, 0, 1 } };
  const SecondMember *m = &s->members[i];
  const FwPanel *p = &s->design->panels[m->panel];
  SecondFrame parent = parent_frame (s, m, body, members);
  SecondFrame *f = &members[i];
  second_point (&parent, p->hinge_mm, f->o);
  memcpy (f->m, parent.m, sizeof f->m);
  if (m->parent < 0)
    multiply (parent.m,
              p->reach == FW_REACH_SIDE      ? side
              : p->reach == FW_REACH_FORWARD ? forward
                                             : back,
              f->m);
  double sweep = p->sweep_deg * RAD, cant = p->cant_deg * RAD;
  const double line[3] = { sin (sweep) * cos (cant), cos (sweep) * cos (cant), sin (cant) };
  double turn[3][3];
  rodrigues (line, -s->x[3 + i], turn);
  multiply (f->m, turn, f->m);
}

static bool
ancestors_placed (const SecondSolver *s, int i, const bool *placed)
{
  return s->members[i].parent < 0 || placed[s->members[i].parent];
}

void
second_place (const SecondSolver *s, SecondFrame *body, SecondFrame members[SECOND_ROOM])
{
  bool placed[SECOND_ROOM] = { false };
  second_body (s, body);
  for (int pass = 0; pass < s->n_members; pass++)
    for (int i = 0; i < s->n_members; i++)
      if (!placed[i] && ancestors_placed (s, i, placed))
        {
          place_member (s, i, body, members);
          placed[i] = true;
        }
}

int
second_find (const SecondSolver *s, int panel, bool left)
{
  for (int i = 0; i < s->n_members; i++)
    if (s->members[i].panel == panel && s->members[i].left == left)
      return i;
  return -1;
}

/* The member a rod's anchor is on: the same side's, or the middle one. */
static int
anchor_member (const SecondSolver *s, const SecondLink *l)
{
  int panel = s->design->rods[l->rod].from.index;
  int own = second_find (s, panel, l->left);
  return own >= 0 ? own : second_find (s, panel, false);
}

static void
link_ends (const SecondSolver *s, int link, const SecondFrame *body, const SecondFrame *members,
           double from[3], double to[3])
{
  const SecondLink *l = &s->links[link];
  const FwRod *rod = &s->design->rods[l->rod];
  FwVec3 a = rod->from.at_mm;
  second_point (&members[l->member], rod->at_mm, to);
  if (rod->from.kind == FW_FROM_THROW)
    pin (s, rod->from.index, l->left, from);
  else if (rod->from.kind == FW_FROM_BASE)
    {
      from[0] = l->left ? -a.x : a.x;
      from[1] = a.y;
      from[2] = a.z;
    }
  else if (rod->from.kind == FW_FROM_BODY)
    second_point (body, l->left ? fw_vec3 (-a.x, a.y, a.z) : a, from);
  else
    {
      int on = anchor_member (s, l);
      bool crosses = l->left && !s->members[on].left;
      second_point (&members[on], crosses ? fw_vec3 (a.x, -a.y, a.z) : a, from);
    }
}

void
second_link_ends (const SecondSolver *s, int link, double from[3], double to[3])
{
  SecondFrame body, members[SECOND_ROOM];
  second_place (s, &body, members);
  link_ends (s, link, &body, members, from, to);
}

/* ---- Equations ---- */

static double
distance (const double a[3], const double b[3])
{
  return sqrt ((a[0] - b[0]) * (a[0] - b[0]) + (a[1] - b[1]) * (a[1] - b[1])
               + (a[2] - b[2]) * (a[2] - b[2]));
}

/* The three equations of the ride, in mm. */
static void
body_equations (const SecondSolver *s, double f[3])
{
  const FwBody *b = &s->design->body;
  double w[3];
  pin (s, b->throw_index, false, w);
  double ph = across (s) ? w[1] : w[0], pz = w[2];
  double h = s->x[0], z = s->x[1], tilt = s->x[2];
  if (b->ride == FW_RIDE_RAIL)
    {
      f[0] = h - b->offset_mm;
      f[1] = hypot (h - ph, z - pz) - b->rod_mm;
      f[2] = s->scale * tilt;
      return;
    }
  f[0] = h - ph - b->post_mm * sin (tilt);
  f[1] = z - pz - b->post_mm * cos (tilt);
  if (b->ride == FW_RIDE_SLEEVE)
    f[2] = (b->guide_mm.x - ph) * cos (tilt) - (b->guide_mm.y - pz) * sin (tilt);
  else
    f[2] = hypot (ph + b->on_mm * sin (tilt) - b->pivot_mm.x,
                  pz + b->on_mm * cos (tilt) - b->pivot_mm.y)
           - b->link_mm;
}

static double
link_equation (const SecondSolver *s, int link, const SecondFrame *body, const SecondFrame *members)
{
  double from[3], to[3];
  link_ends (s, link, body, members, from, to);
  return distance (from, to) - s->design->rods[s->links[link].rod].length_mm;
}

double
second_residual (const SecondSolver *s)
{
  SecondFrame body, members[SECOND_ROOM];
  second_place (s, &body, members);
  double worst = 0;
  if (s->design->body.ride != FW_RIDE_FIXED)
    {
      double f[3];
      body_equations (s, f);
      worst = fmax (fabs (f[0]), fmax (fabs (f[1]), fabs (f[2])));
    }
  for (int i = 0; i < s->n_members; i++)
    if (s->found[i] && s->members[i].link >= 0)
      worst = fmax (worst, fabs (link_equation (s, s->members[i].link, &body, members)));
  return worst;
}

/* ---- Numbering ---- */

static void
add_link (SecondSolver *s, int rod, bool left)
{
  int member = second_find (s, s->design->rods[rod].panel, left);
  g_assert_cmpint (member, >=, 0);
  s->members[member].link = s->n_links;
  s->links[s->n_links++] = (SecondLink){ .rod = rod, .left = left, .member = member };
}

void
second_init (SecondSolver *s, const FwDesign *d)
{
  *s = (SecondSolver){ .design = d, .scale = 100 };
  for (int p = 0; p < d->n_panels; p++)
    {
      if (d->panels[p].side != FW_SIDE_LEFT)
        s->members[s->n_members++] = (SecondMember){ .panel = p, .parent = -1, .link = -1 };
      if (d->panels[p].side == FW_SIDE_LEFT || d->panels[p].side == FW_SIDE_BOTH)
        s->members[s->n_members++]
            = (SecondMember){ .panel = p, .left = true, .parent = -1, .link = -1 };
      g_assert_cmpint (s->n_members, <, SECOND_ROOM - 1);
    }
  for (int i = 0; i < s->n_members; i++)
    {
      SecondMember *m = &s->members[i];
      int on = d->panels[m->panel].on;
      if (on < 0)
        continue;
      int own = second_find (s, on, m->left);
      m->parent = own >= 0 ? own : second_find (s, on, false);
      g_assert_cmpint (m->parent, >=, 0);
    }
  for (int r = 0; r < d->n_rods; r++)
    {
      if (d->rods[r].side != FW_SIDE_LEFT)
        add_link (s, r, false);
      if (d->rods[r].side == FW_SIDE_LEFT || d->rods[r].side == FW_SIDE_BOTH)
        add_link (s, r, true);
    }
}

/* ---- Assembly by looking everywhere ---- */

typedef double (*Gap) (SecondSolver *s, int index, double angle);

static double
member_gap (SecondSolver *s, int i, double angle)
{
  SecondFrame body, members[SECOND_ROOM];
  s->x[3 + i] = angle;
  second_place (s, &body, members);
  return link_equation (s, s->members[i].link, &body, members);
}

static double
rocker_gap (SecondSolver *s, int unused, double angle)
{
  const FwBody *b = &s->design->body;
  double w[3];
  (void)unused;
  pin (s, b->throw_index, false, w);
  double ph = across (s) ? w[1] : w[0];
  return hypot (ph + b->on_mm * sin (angle) - b->pivot_mm.x,
                w[2] + b->on_mm * cos (angle) - b->pivot_mm.y)
         - b->link_mm;
}

static double
bisect (SecondSolver *s, Gap gap, int i, double a, double b)
{
  double fa = gap (s, i, a);
  for (int k = 0; k < 60; k++)
    {
      double m = 0.5 * (a + b), fm = gap (s, i, m);
      if ((fm < 0) == (fa < 0))
        a = m;
      else
        b = m;
    }
  return 0.5 * (a + b);
}

/* The root nearest `near` on the whole circle. */
static bool
nearest_root (SecondSolver *s, Gap gap, int i, double near, double *root)
{
  const int n = 1440;
  bool any = false;
  double before = gap (s, i, near - G_PI);
  for (int k = 1; k <= n; k++)
    {
      double a = near - G_PI + 2 * G_PI * (k - 1) / n, b = near - G_PI + 2 * G_PI * k / n;
      double now = gap (s, i, b);
      if ((before < 0) != (now < 0))
        {
          double r = bisect (s, gap, i, a, b);
          if (!any || fabs (r - near) < fabs (*root - near))
            *root = r;
          any = true;
        }
      before = now;
    }
  return any;
}

void
second_assemble_body (SecondSolver *s)
{
  const FwBody *b = &s->design->body;
  s->body_found = true;
  if (b->ride == FW_RIDE_FIXED)
    return;
  double w[3];
  pin (s, b->throw_index, false, w);
  double ph = across (s) ? w[1] : w[0], pz = w[2];
  if (b->ride == FW_RIDE_RAIL)
    {
      double aside = b->offset_mm - ph;
      s->body_found = fabs (aside) < b->rod_mm;
      s->x[0] = b->offset_mm;
      s->x[1] = pz + sqrt (fmax (0, b->rod_mm * b->rod_mm - aside * aside));
      s->x[2] = 0;
      return;
    }
  if (b->ride == FW_RIDE_SLEEVE)
    s->x[2] = atan2 (b->guide_mm.x - ph, b->guide_mm.y - pz);
  else
    s->body_found = nearest_root (s, rocker_gap, 0, 0, &s->x[2]);
  s->x[0] = ph + b->post_mm * sin (s->x[2]);
  s->x[1] = pz + b->post_mm * cos (s->x[2]);
}

/* What must be known before member i can be: its parent, and the member its rod comes from. */
static bool
ready (const SecondSolver *s, int i, const bool *done)
{
  const SecondMember *m = &s->members[i];
  if (m->parent >= 0 && !done[m->parent])
    return false;
  if (m->link < 0 || s->design->rods[s->links[m->link].rod].from.kind != FW_FROM_PANEL)
    return true;
  return done[anchor_member (s, &s->links[m->link])];
}

static bool
grounds_found (const SecondSolver *s, int i)
{
  const SecondMember *m = &s->members[i];
  if (!s->body_found || (m->parent >= 0 && !s->found[m->parent]))
    return false;
  if (s->design->rods[s->links[m->link].rod].from.kind != FW_FROM_PANEL)
    return true;
  return s->found[anchor_member (s, &s->links[m->link])];
}

void
second_assemble (SecondSolver *s)
{
  bool done[SECOND_ROOM] = { false };
  second_assemble_body (s);
  for (int pass = 0; pass < s->n_members; pass++)
    for (int i = 0; i < s->n_members; i++)
      {
        if (done[i] || !ready (s, i, done))
          continue;
        done[i] = true;
        s->found[i] = false;
        if (s->members[i].link < 0 || !grounds_found (s, i))
          continue;
        double near = s->design->rods[s->links[s->members[i].link].rod].near_deg * RAD, root = 0;
        s->found[i] = nearest_root (s, member_gap, i, near, &root);
        s->x[3 + i] = root;
      }
}

static bool
depends (const SecondSolver *s, int i, int on)
{
  const SecondMember *m = &s->members[i];
  if (i == on || m->parent == on)
    return true;
  return m->link >= 0 && s->design->rods[s->links[m->link].rod].from.kind == FW_FROM_PANEL
         && anchor_member (s, &s->links[m->link]) == on;
}

void
second_drop (SecondSolver *s, int member)
{
  s->found[member] = false;
  for (int i = 0; i < s->n_members; i++)
    if (s->found[i] && depends (s, i, member))
      second_drop (s, i);
}

bool
second_has_root (SecondSolver *s, int i)
{
  double keep = s->x[3 + i], root;
  bool any = nearest_root (s, member_gap, i, keep, &root);
  s->x[3 + i] = keep;
  return any;
}

/* ---- All unknowns together ---- */

static int
unknowns (const SecondSolver *s, int list[3 + SECOND_ROOM])
{
  int n = 0;
  if (s->body_found && s->design->body.ride != FW_RIDE_FIXED)
    for (int k = 0; k < 3; k++)
      list[n++] = k;
  for (int i = 0; i < s->n_members; i++)
    if (s->found[i])
      list[n++] = 3 + i;
  return n;
}

/* Lengths among the unknowns are counted in units of scale, so that all are of like size. */
static double
unit (const SecondSolver *s, int unknown)
{
  return unknown < 2 ? s->scale : 1;
}

static int
equations (const gsl_vector *x, void *data, gsl_vector *f)
{
  SecondSolver *s = data;
  SecondFrame body, members[SECOND_ROOM];
  int list[3 + SECOND_ROOM], n = unknowns (s, list), row = 0;
  for (int k = 0; k < n; k++)
    s->x[list[k]] = gsl_vector_get (x, (size_t)k) * unit (s, list[k]);
  second_place (s, &body, members);
  if (s->body_found && s->design->body.ride != FW_RIDE_FIXED)
    {
      double g[3];
      body_equations (s, g);
      for (; row < 3; row++)
        gsl_vector_set (f, (size_t)row, g[row] / s->scale);
    }
  for (int i = 0; i < s->n_members; i++)
    if (s->found[i])
      gsl_vector_set (f, (size_t)row++,
                      link_equation (s, s->members[i].link, &body, members) / s->scale);
  return GSL_SUCCESS;
}

struct SecondWorkspace
{
  gsl_multiroot_fsolver *solver;
  gsl_vector *x;
};

SecondWorkspace *
second_workspace_new (const SecondSolver *s)
{
  int list[3 + SECOND_ROOM];
  size_t n = (size_t)unknowns (s, list);
  SecondWorkspace *w = g_new0 (SecondWorkspace, 1);
  if (n == 0)
    return w;
  w->solver = gsl_multiroot_fsolver_alloc (gsl_multiroot_fsolver_hybrids, n);
  w->x = gsl_vector_alloc (n);
  return w;
}

void
second_workspace_free (SecondWorkspace *w)
{
  if (w->solver != NULL)
    {
      gsl_multiroot_fsolver_free (w->solver);
      gsl_vector_free (w->x);
    }
  g_free (w);
}

bool
second_solve_in (SecondSolver *s, double crank, SecondWorkspace *w)
{
  int list[3 + SECOND_ROOM];
  int n = unknowns (s, list);
  s->crank = crank;
  if (n == 0)
    return true;
  gsl_multiroot_function function = { .f = equations, .n = (size_t)n, .params = s };
  for (int k = 0; k < n; k++)
    gsl_vector_set (w->x, (size_t)k, s->x[list[k]] / unit (s, list[k]));
  int status = gsl_multiroot_fsolver_set (w->solver, &function, w->x);
  for (int k = 0; k < 100 && !status; k++)
    {
      status = gsl_multiroot_fsolver_iterate (w->solver);
      if (gsl_multiroot_test_residual (w->solver->f, 1e-14) == GSL_SUCCESS)
        break;
    }
  for (int k = 0; k < n; k++)
    s->x[list[k]] = gsl_vector_get (w->solver->x, (size_t)k) * unit (s, list[k]);
  s->residual = second_residual (s);
  return s->residual < 1e-9;
}

bool
second_solve (SecondSolver *s, double crank)
{
  SecondWorkspace *w = second_workspace_new (s);
  bool solved = second_solve_in (s, crank, w);
  second_workspace_free (w);
  return solved;
}
