#include "draw/forms.h"

#include <math.h>

/* Chord of a panel without an outline, at its hinge and at its tip. */
static void
chords (const FwDesign *d, int panel, int depth, double *root, double *tip)
{
  const FwPanel *p = &d->panels[panel];
  double share = p->reach == FW_REACH_SIDE ? 0.45 : 0.3;
  *root = share * p->span_mm;
  if (p->on >= 0 && p->on < d->n_panels && depth < d->n_panels)
    {
      double parent_root;
      chords (d, p->on, depth + 1, &parent_root, root);
    }
  *tip = fmin (*root * 0.8, fmax (0.35 * p->span_mm, 0.5 * *root));
}

static gboolean
carries_panel (const FwDesign *d, int panel)
{
  for (int i = 0; i < d->n_panels; i++)
    if (d->panels[i].on == panel)
      return TRUE;
  return FALSE;
}

/* A wing's chord lies more behind the hinge's middle than before it; a tail's or neck's is even. */
static int
default_outline (const FwDesign *d, int panel, FwVec2 *out)
{
  const FwPanel *p = &d->panels[panel];
  double root, tip, s = p->span_mm;
  chords (d, panel, 0, &root, &tip);
  double front = p->reach == FW_REACH_SIDE ? 0.4 : 0.5;
  int n = 0;
  out[n++] = (FwVec2){ 0, front * root };
  out[n++] = (FwVec2){ 0.55 * s, front * (0.4 * root + 0.6 * tip) };
  if (carries_panel (d, panel))
    {
      out[n++] = (FwVec2){ s, front * tip };
      out[n++] = (FwVec2){ s, (front - 1) * tip };
    }
  else
    {
      out[n++] = (FwVec2){ 0.86 * s, front * 0.85 * tip };
      out[n++] = (FwVec2){ 0.97 * s, front * 0.35 * tip };
      out[n++] = (FwVec2){ s, (front - 0.62) * tip };
      out[n++] = (FwVec2){ 0.95 * s, (front - 0.95) * tip };
    }
  out[n++] = (FwVec2){ 0.5 * s, (front - 1) * (0.5 * root + 0.5 * tip) * 1.04 };
  out[n++] = (FwVec2){ 0, (front - 1) * root };
  return n;
}

const FwVec2 *
fw_form_outline (const FwDesign *d, int panel, FwVec2 buffer[FW_FORM_OUTLINE], int *n)
{
  const FwPanel *p = &d->panels[panel];
  if (p->n_outline >= 3 && p->outline_mm != NULL)
    {
      *n = p->n_outline;
      return p->outline_mm;
    }
  if (p->solid.n_sections >= 2)
    {
      *n = 0;
      return NULL;
    }
  *n = default_outline (d, panel, buffer);
  return buffer;
}

FwVec2
fw_form_tip (const FwDesign *d, int panel)
{
  FwVec2 buffer[FW_FORM_OUTLINE], tip = { d->panels[panel].span_mm, 0 };
  int n;
  const FwVec2 *points = fw_form_outline (d, panel, buffer, &n);
  double most = -1;
  for (int i = 0; i < n; i++)
    if (hypot (points[i].x, points[i].y) > most)
      {
        most = hypot (points[i].x, points[i].y);
        tip = points[i];
      }
  return tip;
}

/* How wide, how high and how long the hinges want the body to be. */
static void
body_measure (const FwDesign *d, double *half, double *rear, double *front, double *level)
{
  double widest = 0, sum = 0, chord = 0;
  int n = 0;
  *rear = *front = 0;
  for (int i = 0; i < d->n_panels; i++)
    {
      const FwPanel *p = &d->panels[i];
      if (p->on != FW_ON_BODY)
        continue;
      double root, tip;
      chords (d, i, 0, &root, &tip);
      if (p->reach == FW_REACH_SIDE)
        {
          widest = fmax (widest, fabs (p->hinge_mm.x));
          chord = fmax (chord, root);
          sum += p->hinge_mm.z;
          n++;
        }
      *rear = fmin (*rear, p->hinge_mm.y);
      *front = fmax (*front, p->hinge_mm.y);
    }
  *half = widest > 4 ? widest : fmax (0.3 * chord, 25);
  *level = n > 0 ? sum / n : 0;
  double along = fmax (1.05 * chord, 2.2 * *half);
  *rear = fmin (*rear, -along);
  *front = fmax (*front, 0.85 * along);
}

FwSolid
fw_form_body (const FwDesign *d, FwSection buffer[FW_FORM_SECTIONS])
{
  if (d->body.solid.n_sections >= 2)
    return d->body.solid;
  /* Shares of the greatest half width, from tail to breast. */
  static const double girth[FW_FORM_SECTIONS] = { 0.12, 0.42, 0.7, 0.9, 1, 1, 0.9, 0.66, 0.3 };
  double half, rear, front, level;
  body_measure (d, &half, &rear, &front, &level);
  for (int i = 0; i < FW_FORM_SECTIONS; i++)
    {
      double at = rear + (front - rear) * i / (FW_FORM_SECTIONS - 1);
      double lift = 0.15 * half * (i - 4) / 4;
      buffer[i] = (FwSection){ at, level + lift - 0.95 * half * girth[i],
                               level + lift + 0.75 * half * girth[i], half * girth[i] };
    }
  return (FwSolid){ .sections = buffer, .n_sections = FW_FORM_SECTIONS };
}

/* ---- The net ---- */

#define FW_NET_END 5 /* rings of a rounded end, at most */
/* All of a solid's sections are rings of the net; of more than these, as many are taken evenly. */
#define FW_NET_MOST_SECTIONS (FW_NET_LONG - 2 * FW_NET_END)

typedef enum
{
  LOW,
  HIGH,
  HALF_WIDTH
} Measure;

static double
value (const FwSolid *s, int i, Measure of)
{
  const FwSection *section = &s->sections[i];
  return of == LOW ? section->low_mm : of == HIGH ? section->high_mm : section->half_width_mm;
}

/* Slope at section i of a curve through the sections that never overshoots them (Fritsch and
 * Carlson's rule, in the harmonic-mean form of Fritsch and Butland). */
static double
slope (const FwSolid *s, int i, Measure of)
{
  if (i == 0 || i == s->n_sections - 1)
    {
      int a = i == 0 ? 0 : i - 1;
      double h = s->sections[a + 1].at_mm - s->sections[a].at_mm;
      return h != 0 ? (value (s, a + 1, of) - value (s, a, of)) / h : 0;
    }
  double h0 = s->sections[i].at_mm - s->sections[i - 1].at_mm;
  double h1 = s->sections[i + 1].at_mm - s->sections[i].at_mm;
  if (h0 == 0 || h1 == 0)
    return 0;
  double here = value (s, i, of);
  double d0 = (here - value (s, i - 1, of)) / h0, d1 = (value (s, i + 1, of) - here) / h1;
  return d0 * d1 <= 0 ? 0 : 2 * d0 * d1 / (d0 + d1);
}

static double
between (double a, double b, double slope_a, double slope_b, double h, double t)
{
  double t2 = t * t, t3 = t2 * t;
  return a * (2 * t3 - 3 * t2 + 1) + h * slope_a * (t3 - 2 * t2 + t) + b * (3 * t2 - 2 * t3)
         + h * slope_b * (t3 - t2);
}

static void
add_ring (FwNet *net, FwSection section, double shrink, gboolean given)
{
  if (net->rings == FW_NET_LONG)
    return;
  double middle = (section.low_mm + section.high_mm) / 2;
  double half = shrink * (section.high_mm - section.low_mm) / 2;
  double across = shrink * section.half_width_mm;
  net->middles[net->rings] = (FwVec2){ section.at_mm, middle };
  net->given[net->rings] = given;
  for (int k = 0; k < net->round; k++)
    {
      double angle = 2 * G_PI * k / net->round;
      net->points[net->rings][k]
          = fw_vec3 (section.at_mm, across * cos (angle), middle + half * sin (angle));
    }
  net->rings++;
}

/* Rounds an end off: rings that shrink along a quarter of an oval. */
static void
add_end (FwNet *net, FwSection section, double sign)
{
  double out = 0.55 * fmin (section.half_width_mm, (section.high_mm - section.low_mm) / 2);
  const int n = net->round > 20 ? FW_NET_END : 3;
  double at = section.at_mm;
  for (int i = 0; i < n; i++)
    {
      int k = sign < 0 ? n - i : i + 1;
      double a = k == n ? G_PI_2 : sin (G_PI_2 * k / n) * G_PI_2;
      section.at_mm = at + sign * out * sin (a);
      add_ring (net, section, fmax (cos (a), 0), FALSE);
    }
}

static FwSection
section_between (const FwSolid *s, int i, double t)
{
  FwSection out;
  const FwSection *a = &s->sections[i], *b = &s->sections[i + 1];
  double h = b->at_mm - a->at_mm;
  double at[3];
  for (Measure of = LOW; of <= HALF_WIDTH; of++)
    at[of] = between (value (s, i, of), value (s, i + 1, of), slope (s, i, of), slope (s, i + 1, of), h, t);
  out.at_mm = a->at_mm + h * t;
  out.low_mm = at[LOW];
  out.high_mm = at[HIGH];
  out.half_width_mm = fmax (at[HALF_WIDTH], 0);
  return out;
}

void
fw_form_net (const FwSolid *solid, int fineness, FwNet *net)
{
  FwSection chosen[FW_NET_MOST_SECTIONS];
  FwSolid s = *solid;
  if (s.n_sections > FW_NET_MOST_SECTIONS)
    {
      s.n_sections = FW_NET_MOST_SECTIONS;
      s.sections = chosen;
      for (int i = 0; i < s.n_sections; i++)
        chosen[i] = solid->sections[(gint64)i * (solid->n_sections - 1) / (s.n_sections - 1)];
    }
  net->rings = 0;
  net->round = fineness == 0 ? 12 : fineness == 1 ? 20 : FW_NET_ROUND;
  if (s.n_sections < 2)
    return;
  int parts = CLAMP ((FW_NET_LONG - 2 * FW_NET_END - 1) / (s.n_sections - 1), 1,
                     fineness == 0   ? 2
                     : fineness == 1 ? 3
                                     : 5);
  add_end (net, s.sections[0], -1);
  for (int i = 0; i < s.n_sections - 1; i++)
    for (int k = 0; k < parts; k++)
      add_ring (net, k == 0 ? s.sections[i] : section_between (&s, i, (double)k / parts), 1,
                k == 0 && i > 0);
  add_ring (net, s.sections[s.n_sections - 1], 1, FALSE);
  add_end (net, s.sections[s.n_sections - 1], 1);
}

double
fw_form_half_width (const FwSolid *solid, double at, double up)
{
  for (int i = 0; i < solid->n_sections - 1; i++)
    {
      double a = solid->sections[i].at_mm, b = solid->sections[i + 1].at_mm;
      if (a == b || (at - a) * (at - b) > 0)
        continue;
      FwSection here = section_between (solid, i, (at - a) / (b - a));
      double half = (here.high_mm - here.low_mm) / 2;
      double y = half > 0 ? (up - (here.low_mm + here.high_mm) / 2) / half : 1;
      return here.half_width_mm * sqrt (fmax (1 - y * y, 0));
    }
  return 0;
}
