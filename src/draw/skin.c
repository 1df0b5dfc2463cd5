#include "draw/skin.h"

#define FOLD 0.1 /* times `clear`: how deep a fold must be to have an edge */

/* Normals from the net itself. Their common sense, outward, is settled by the majority: where a
 * form bends sharply a single one may seem to look inward. */
static void
lay_facing (const FwDrawing *d, const FwNet *net, FwVec3 world[FW_NET_LONG][FW_NET_ROUND],
            FwSkin *skin)
{
  FwVec3 normals[FW_NET_LONG][FW_NET_ROUND];
  double outward = 0;
  int last = net->rings - 1;
  for (int s = 0; s < net->rings; s++)
    {
      FwVec3 middle = fw_vec3_scale (fw_vec3_add (world[s][0], world[s][net->round / 2]), 0.5);
      for (int k = 0; k < net->round; k++)
        {
          FwVec3 along = fw_vec3_sub (world[MIN (s + 1, last)][k], world[MAX (s - 1, 0)][k]);
          FwVec3 round = fw_vec3_sub (world[s][(k + 1) % net->round],
                                      world[s][(k + net->round - 1) % net->round]);
          FwVec3 normal = fw_vec3_cross (along, round);
          double length = fw_vec3_length (normal);
          if (length < 1e-9)
            {
              normals[s][k] = fw_vec3 (0, 0, 0);
              skin->facing[s][k] = NAN; /* the point of an end: it looks away from the other end */
              continue;
            }
          normals[s][k] = fw_vec3_scale (normal, 1 / length);
          skin->facing[s][k] = fw_vec3_dot (normals[s][k], d->axes.toward);
          outward += fw_vec3_dot (normal, fw_vec3_sub (world[s][k], middle)) / length;
        }
    }
  FwVec3 ends = fw_vec3_sub (world[last][0], world[0][0]);
  double tip = fw_vec3_dot (ends, d->axes.toward) / fmax (fw_vec3_length (ends), 1e-9);
  for (int s = 0; s < net->rings; s++)
    for (int k = 0; k < net->round; k++)
      {
        double sense = outward < 0 ? -1 : 1;
        skin->facing[s][k]
            = isnan (skin->facing[s][k]) ? (s < last / 2 ? -tip : tip) : skin->facing[s][k] * sense;
        skin->tone[s][k] = fw_drawing_tone (d, fw_vec3_scale (normals[s][k], sense));
      }
}

static gboolean
faces_eye (const FwSkin *skin, int s, int k)
{
  int j = (k + 1) % skin->round;
  return skin->facing[s][k] > 0 || skin->facing[s][j] > 0 || skin->facing[s + 1][j] > 0
         || skin->facing[s + 1][k] > 0;
}

/* Most of what is looked for on the page lies above or below a quad: that is told from two numbers. */
static void
lay_quads (FwSkin *skin)
{
  for (int s = 0; s + 1 < skin->rings; s++)
    for (int k = 0; k < skin->round; k++)
      {
        int j = (k + 1) % skin->round;
        double a = skin->page[s][k].y, b = skin->page[s][j].y;
        double c = skin->page[s + 1][j].y, e = skin->page[s + 1][k].y;
        gboolean seen = faces_eye (skin, s, k);
        skin->top[s][k] = seen ? fmin (fmin (a, b), fmin (c, e)) : INFINITY;
        skin->low[s][k] = seen ? fmax (fmax (a, b), fmax (c, e)) : -INFINITY;
      }
}

void
fw_skin_lay (const FwDrawing *d, const FwNet *net, const FwFrame *frame, gboolean body,
             FwSkin *skin)
{
  FwVec3 world[FW_NET_LONG][FW_NET_ROUND];
  skin->rings = net->rings;
  skin->round = net->round;
  for (int s = 0; s < net->rings; s++)
    for (int k = 0; k < skin->round; k++)
      {
        world[s][k] = fw_frame_to_world (frame, fw_skin_in_frame (net->points[s][k], body));
        skin->page[s][k] = fw_drawing_project (d, world[s][k]);
        skin->depth[s][k] = fw_drawing_depth (d, world[s][k]);
      }
  lay_facing (d, net, world, skin);
  lay_quads (skin);
  skin->gores = skin->round > 12 ? 10 : 6;
}

/* ---- Silhouette: the rim of all quads that face the eye ---- */

/* How often each edge of the net is run along, less how often against: round the ring, and along
 * the reach. */
typedef struct
{
  signed char ring[FW_NET_LONG][FW_NET_ROUND], reach[FW_NET_LONG][FW_NET_ROUND];
} Rim;

/* All quads in one sense of turning, so that overlapping ones add up; edges between neighbours
 * cancel. */
static void
collect_rim (const FwSkin *skin, Rim *rim)
{
  *rim = (Rim){ 0 };
  for (int s = 0; s + 1 < skin->rings; s++)
    for (int k = 0; k < skin->round; k++)
      {
        int j = (k + 1) % skin->round;
        if (!faces_eye (skin, s, k))
          continue;
        const FwVec2 quad[4]
            = { skin->page[s][k], skin->page[s][j], skin->page[s + 1][j], skin->page[s + 1][k] };
        signed char sense = fw_polygon_area (quad, 4) > 0 ? 1 : -1;
        rim->ring[s][k] = (signed char)(rim->ring[s][k] + sense);
        rim->reach[s][j] = (signed char)(rim->reach[s][j] + sense);
        rim->ring[s + 1][k] = (signed char)(rim->ring[s + 1][k] - sense);
        rim->reach[s][k] = (signed char)(rim->reach[s][k] - sense);
      }
}

/* Takes one edge of the rim that leaves the node; FALSE: none is left. */
static gboolean
leave (Rim *rim, const FwSkin *skin, int *s, int *k)
{
  int next = (*k + 1) % skin->round, before = (*k + skin->round - 1) % skin->round;
  if (rim->ring[*s][*k] > 0)
    {
      rim->ring[*s][*k]--;
      *k = next;
    }
  else if (rim->ring[*s][before] < 0)
    {
      rim->ring[*s][before]++;
      *k = before;
    }
  else if (rim->reach[*s][*k] > 0)
    {
      rim->reach[*s][*k]--;
      (*s)++;
    }
  else if (*s > 0 && rim->reach[*s - 1][*k] < 0)
    {
      rim->reach[*s - 1][*k]++;
      (*s)--;
    }
  else
    return FALSE;
  return TRUE;
}

static void
add_silhouette (FwDrawing *d, FwPiece *piece, const FwSkin *skin)
{
  Rim rim;
  collect_rim (skin, &rim);
  for (int s0 = 0; s0 < skin->rings; s0++)
    for (int k0 = 0; k0 < skin->round; k0++)
      {
        int s = s0, k = k0;
        FwFace loop = { .first = (int)d->points->len };
        while (leave (&rim, skin, &s, &k))
          {
            fw_drawing_point (d, skin->page[s][k]);
            loop.n++;
          }
        if (loop.n == 0)
          continue;
        g_array_append_val (d->faces, loop);
        piece->n_faces++;
      }
}

/* ---- What lies before what ---- */

/* How many layers of skin face the eye at a page point. */
static int
layers_at (const FwDrawing *d, const FwPiece *piece, FwVec2 p)
{
  int turns = 0;
  for (int i = 0; i < piece->n_faces; i++)
    {
      const FwFace *face = &g_array_index (d->faces, FwFace, piece->first_face + i);
      turns += fw_polygon_turns (fw_drawing_points (d, face->first), face->n, p);
    }
  return abs (turns);
}

/* Is there another layer at a page point, clearly nearer or deeper than `depth`? The net's own
 * quads around a contour stand a little nearer, so that side has the wider margin. */
static void
compare_layers (const FwSkin *skin, FwVec2 p, double depth, double clear, gboolean *nearer,
                gboolean *deeper)
{
  *nearer = *deeper = FALSE;
  for (int s = 0; s + 1 < skin->rings; s++)
    for (int k = 0; k < skin->round; k++)
      {
        if (p.y < skin->top[s][k] || p.y >= skin->low[s][k])
          continue;
        int j = (k + 1) % skin->round;
        double here = (skin->depth[s][k] + skin->depth[s + 1][j]) / 2;
        if (here > depth ? here - depth <= clear : depth - here <= FOLD * clear)
          continue;
        const FwVec2 quad[4]
            = { skin->page[s][k], skin->page[s][j], skin->page[s + 1][j], skin->page[s + 1][k] };
        if (!fw_polygon_holds (quad, 4, p))
          continue;
        *nearer = *nearer || here > depth;
        *deeper = *deeper || here < depth;
      }
}

/* ---- Contours: where the skin turns away ---- */

typedef struct
{
  FwVec2 page;
  double depth;
  int link[2]; /* the crossings next to it along the contour; -1: none */
} Crossing;

/* A contour crosses edges of the net: index 2 * node for the ring edge that leaves it, + 1 for the
 * reach. */
static void
find_crossings (const FwSkin *skin, Crossing *crossings)
{
  for (int s = 0; s < skin->rings; s++)
    for (int k = 0; k < skin->round; k++)
      for (int reach = 0; reach < 2; reach++)
        {
          Crossing *c = &crossings[2 * (s * skin->round + k) + reach];
          int s1 = s + reach, k1 = reach ? k : (k + 1) % skin->round;
          c->link[0] = c->link[1] = -1;
          c->depth = NAN;
          if (s1 == skin->rings || (skin->facing[s][k] > 0) == (skin->facing[s1][k1] > 0))
            continue;
          double t = skin->facing[s][k] / (skin->facing[s][k] - skin->facing[s1][k1]);
          c->page = fw_vec2_mix (skin->page[s][k], skin->page[s1][k1], t);
          c->depth = skin->depth[s][k] + t * (skin->depth[s1][k1] - skin->depth[s][k]);
        }
}

static void
link_crossings (Crossing *crossings, int a, int b)
{
  crossings[a].link[crossings[a].link[0] < 0 ? 0 : 1] = b;
  crossings[b].link[crossings[b].link[0] < 0 ? 0 : 1] = a;
}

static void
link_all (const FwSkin *skin, Crossing *crossings)
{
  for (int s = 0; s + 1 < skin->rings; s++)
    for (int k = 0; k < skin->round; k++)
      {
        int j = (k + 1) % skin->round, found[4], n = 0;
        const int edges[4] = { 2 * (s * skin->round + k), 2 * (s * skin->round + j) + 1,
                               2 * ((s + 1) * skin->round + k), 2 * (s * skin->round + k) + 1 };
        for (int i = 0; i < 4; i++)
          if (!isnan (crossings[edges[i]].depth))
            found[n++] = edges[i];
        for (int i = 0; i + 1 < n; i += 2)
          link_crossings (crossings, found[i], found[i + 1]);
      }
}

/* A stretch of contour is drawn if it is the outer rim, or if the skin behind it lies clearly
 * deeper and nothing lies before it. What folds by less than `clear` is no edge to the eye. */
static gboolean
contour_shows (const FwDrawing *d, const FwPiece *piece, const FwSkin *skin, const Crossing *a,
               const Crossing *b, double clear, gboolean *folded)
{
  FwVec2 middle = fw_vec2_mix (a->page, b->page, 0.5);
  double length = fw_vec2_distance (a->page, b->page), out = 1.2 * d->line;
  if (length < 1e-6)
    return TRUE;
  FwVec2 aside
      = fw_vec2 (-(b->page.y - a->page.y) / length * out, (b->page.x - a->page.x) / length * out);
  if (layers_at (d, piece, fw_vec2 (middle.x + aside.x, middle.y + aside.y)) == 0
      || layers_at (d, piece, fw_vec2 (middle.x - aside.x, middle.y - aside.y)) == 0)
    return TRUE;
  gboolean nearer, deeper;
  compare_layers (skin, middle, (a->depth + b->depth) / 2, clear, &nearer, &deeper);
  *folded = *folded || nearer || deeper;
  return deeper && !nearer;
}

static void
end_line (FwDrawing *d, FwFace *line, int *count)
{
  line->n = (int)d->points->len - line->first;
  if (line->n >= 2)
    {
      g_array_append_val (d->faces, *line);
      (*count)++;
    }
  line->first = (int)d->points->len;
}

/* Follows the contour from one crossing to its end, drawing what shows. */
static void
follow (FwDrawing *d, FwPiece *piece, const FwSkin *skin, Crossing *crossings, int at, double clear,
        gboolean *folded)
{
  FwFace line = { .first = (int)d->points->len };
  for (int next;
       (next = crossings[at].link[0] >= 0 ? crossings[at].link[0] : crossings[at].link[1]) >= 0;
       at = next)
    {
      Crossing *a = &crossings[at], *b = &crossings[next];
      a->link[a->link[0] == next ? 0 : 1] = -1;
      b->link[b->link[0] == at ? 0 : 1] = -1;
      if (!contour_shows (d, piece, skin, a, b, clear, folded))
        {
          end_line (d, &line, &piece->n_contours);
          continue;
        }
      if ((int)d->points->len == line.first)
        fw_drawing_point (d, a->page);
      fw_drawing_point (d, b->page);
    }
  end_line (d, &line, &piece->n_contours);
}

static gboolean
add_contours (FwDrawing *d, FwPiece *piece, const FwSkin *skin, double clear)
{
  g_assert (skin->rings > 0 && skin->round > 0);
  int n = 2 * skin->rings * skin->round;
  gboolean folded = FALSE;
  Crossing *crossings = g_new (Crossing, n);
  find_crossings (skin, crossings);
  link_all (skin, crossings);
  piece->first_contour = (int)d->faces->len;
  /* Open ends first, then what runs round. */
  for (int pass = 0; pass < 2; pass++)
    for (int i = 0; i < n; i++)
      if (pass == 1 || (crossings[i].link[0] < 0) != (crossings[i].link[1] < 0))
        follow (d, piece, skin, crossings, i, clear, &folded);
  g_free (crossings);
  return folded;
}

/* ---- Strips and ribs: the paper hull ---- */

/* The part of a ring, between two seams, that faces the eye: steps from the first seam. FALSE:
 * none. */
static gboolean
lit_part (const FwSkin *skin, int ring, int first, int steps, int *from, int *to)
{
  *from = steps + 1;
  *to = -1;
  for (int k = 0; k <= steps; k++)
    if (skin->facing[ring][(first + k) % skin->round] > 0)
      {
        *from = MIN (*from, k);
        *to = k;
      }
  return *to >= *from;
}

/* One strip from ring to ring, as much of it as faces the eye: there along one edge, back along the
 * other. */
static void
add_strip (FwDrawing *d, FwPiece *piece, const FwSkin *skin, int first, int low, int high)
{
  int steps = skin->round / skin->gores, step = skin->rings > 24 ? 2 : 1, from, to, n = 0;
  FwFace face = { .first = (int)d->points->len };
  double tone = 0;
  for (int back = 0; back < 2; back++)
    for (int s = back ? high : low; back ? s >= low : s <= high; s += back ? -1 : 1)
      {
        if ((s - low) % step != 0 && s != high)
          continue;
        lit_part (skin, s, first, steps, &from, &to);
        int k = (first + (back ? from : to)) % skin->round;
        fw_drawing_point (d, skin->page[s][k]);
        tone += skin->tone[s][k];
        n++;
      }
  face.n = n;
  face.tone = CLAMP (0.8 * tone / n + 0.06, -0.42, 0.5);
  if (n < 3)
    return;
  g_array_append_val (d->faces, face);
  piece->n_strips++;
}

static void
add_strips (FwDrawing *d, FwPiece *piece, const FwSkin *skin)
{
  piece->first_strip = (int)d->faces->len;
  for (int g = 0; g < skin->gores; g++)
    {
      int first = g * skin->round / skin->gores, low = -1, from, to;
      for (int s = 0; s <= skin->rings; s++)
        {
          gboolean lit
              = s < skin->rings && lit_part (skin, s, first, skin->round / skin->gores, &from, &to);
          if (lit && low < 0)
            low = s;
          if (!lit && low >= 0 && s - 1 > low)
            add_strip (d, piece, skin, first, low, s - 1);
          if (!lit)
            low = -1;
        }
    }
}

static gboolean
rib_shows (const FwDrawing *d, const FwPiece *piece, const FwSkin *skin, int s0, int k0, int s1,
           int k1, double clear, gboolean folded)
{
  if (skin->facing[s0][k0] <= 0.05 || skin->facing[s1][k1] <= 0.05)
    return FALSE;
  if (!folded)
    return TRUE;
  FwVec2 middle = fw_vec2_mix (skin->page[s0][k0], skin->page[s1][k1], 0.5);
  gboolean nearer, deeper;
  if (layers_at (d, piece, middle) < 2)
    return TRUE;
  compare_layers (skin, middle, (skin->depth[s0][k0] + skin->depth[s1][k1]) / 2, clear, &nearer,
                  &deeper);
  return !nearer;
}

static void
add_seam (FwDrawing *d, FwPiece *piece, const FwSkin *skin, FwFace *line, int s0, int k0, int s1,
          int k1, double clear, gboolean folded)
{
  if (!rib_shows (d, piece, skin, s0, k0, s1, k1, clear, folded))
    {
      end_line (d, line, &piece->n_ribs);
      return;
    }
  if ((int)d->points->len == line->first)
    fw_drawing_point (d, skin->page[s0][k0]);
  fw_drawing_point (d, skin->page[s1][k1]);
}

/* Rings at the sections the design gives, and gores along the form. */
static void
add_ribs (FwDrawing *d, FwPiece *piece, const FwSkin *skin, const FwNet *net, double clear,
          gboolean folded)
{
  int step = skin->rings > 24 ? 2 : 1;
  piece->first_rib = (int)d->faces->len;
  FwFace line = { .first = (int)d->points->len };
  for (int s = 0; s < skin->rings; s++)
    {
      for (int k = 0; net->given[s] && k < skin->round; k++)
        add_seam (d, piece, skin, &line, s, k, s, (k + 1) % skin->round, clear, folded);
      end_line (d, &line, &piece->n_ribs);
    }
  for (int k = 0; k < skin->round; k += skin->round / skin->gores)
    {
      for (int s = 2; s + 2 + step < skin->rings; s += step)
        add_seam (d, piece, skin, &line, s, k, s + step, k, clear, folded);
      end_line (d, &line, &piece->n_ribs);
    }
}

void
fw_skin_trace (FwDrawing *d, FwPiece *piece, const FwSkin *skin, const FwNet *net, double clear)
{
  add_silhouette (d, piece, skin);
  gboolean folded = add_contours (d, piece, skin, clear);
  add_strips (d, piece, skin);
  add_ribs (d, piece, skin, net, clear, folded);
}
