#include "shop/svg.h"

#include <gio/gio.h>
#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "doc/filebatch.h"
#include "doc/materials.h"
#include "draw/shapes.h"
#include "shop/templatebuild.h"
#include "shop/templatetext.h"

#define HAIRLINE "0.05"
#define MOST_PIECES 64 /* of one line cut to its part */

/* ---- XML ---- */

/* What XML 1.0 can hold of the text, escaped. */
static void
add_escaped (GString *out, const char *text)
{
  for (const char *at = text; *at != '\0'; at = g_utf8_next_char (at))
    {
      gunichar c = g_utf8_get_char (at);
      if (c == '&')
        g_string_append (out, "&amp;");
      else if (c == '<')
        g_string_append (out, "&lt;");
      else if (c == '>')
        g_string_append (out, "&gt;");
      else if (c < 0x20 || c == 0x7f || c == 0xfffe || c == 0xffff)
        g_string_append_c (out, ' ');
      else
        g_string_append_unichar (out, c);
    }
}

static void
add_title (GString *out, const char *text)
{
  g_string_append (out, "<title>");
  add_escaped (out, text);
  g_string_append (out, "</title>");
}

/* With a point whatever the locale, no more digits than needed. */
static void
add_number (GString *out, double value)
{
  char digits[G_ASCII_DTOSTR_BUF_SIZE + 32];
  if (fabs (value) < 5e-5)
    value = 0;
  g_ascii_formatd (digits, sizeof digits, "%.4f", value);
  gsize n = strlen (digits);
  while (digits[n - 1] == '0')
    digits[--n] = '\0';
  if (digits[n - 1] == '.')
    digits[--n] = '\0';
  g_string_append (out, digits);
}

static void
add_point (GString *out, const char *before, FwVec2 p)
{
  g_string_append (out, before);
  add_number (out, p.x);
  g_string_append_c (out, ' ');
  add_number (out, p.y);
}

/* ---- Parts ---- */

static void
add_outline (GString *out, const FwCutPart *part, const FwCutLine *line, const FwPagePart *at)
{
  const FwVec2 *points = fw_cut_line_points (part, line);
  for (int i = 0; i < line->n; i++)
    add_point (out, i == 0 ? "<path d=\"M" : " L", fw_page_point (at, points[i]));
  g_string_append (out, line->closed ? " Z\"/>\n" : "\"/>\n");
}

/* A line on the surface, as far as there is surface. */
static void
add_surface_line (GString *out, const FwCutPart *part, const FwCutLine *line, const FwPagePart *at)
{
  const FwCutLine *outline = &g_array_index (part->lines, FwCutLine, 0);
  const FwVec2 *edge = fw_cut_line_points (part, outline), *points = fw_cut_line_points (part, line);
  FwVec2 pairs[2 * MOST_PIECES], last = { NAN, NAN };
  GString *d = g_string_new (NULL);
  for (int i = 0; i + 1 < line->n + (line->closed ? 1 : 0); i++)
    {
      int n = fw_cut_clip (edge, outline->n, points[i], points[(i + 1) % line->n], pairs, MOST_PIECES);
      for (int k = 0; k < n; k++)
        {
          if (!(fw_vec2_distance (last, pairs[2 * k]) < 1e-9))
            add_point (d, d->len > 0 ? " M" : "M", fw_page_point (at, pairs[2 * k]));
          add_point (d, " L", fw_page_point (at, pairs[2 * k + 1]));
          last = pairs[2 * k + 1];
        }
    }
  if (d->len > 0)
    g_string_append_printf (out, "<path%s d=\"%s\"/>\n",
                            line->kind == FW_LINE_HINGE ? " class=\"hinge\"" : "", d->str);
  g_string_free (d, TRUE);
}

static void
add_letters (GString *out, const FwCutText *text, const FwPagePart *at, PangoContext *context)
{
  static const char *const commands[] = { "M", " L", " C", " Z" };
  cairo_path_t *path = fw_cut_text_path (context, text);
  GString *d = g_string_new (NULL);
  for (int i = 0; i < path->num_data; i += path->data[i].header.length)
    {
      const cairo_path_data_t *p = &path->data[i];
      if (p->header.type == CAIRO_PATH_MOVE_TO
          && (i + p->header.length >= path->num_data
              || path->data[i + p->header.length].header.type == CAIRO_PATH_MOVE_TO))
        continue; /* where the pen would rest */
      g_string_append (d, commands[p->header.type]);
      for (int k = 1; k < p->header.length; k++)
        add_point (d, k > 1 ? " " : "", fw_page_point (at, fw_vec2 (p[k].point.x, p[k].point.y)));
    }
  if (d->len > 0)
    g_string_append_printf (out, "<path class=\"letters\" d=\"%s\"/>\n", g_strchug (d->str));
  g_string_free (d, TRUE);
  cairo_path_destroy (path);
}

/* What is done to one part in one group. */
static void
add_part (GString *out, const FwCutPart *part, const FwPagePart *at, FwLineKind group,
          PangoContext *context)
{
  for (guint i = 0; group == FW_LINE_CUT && i < part->holes->len; i++)
    {
      const FwCutHole *hole = &g_array_index (part->holes, FwCutHole, i);
      FwVec2 c = fw_page_point (at, hole->at_mm);
      g_string_append (out, "<circle cx=\"");
      add_number (out, c.x);
      g_string_append (out, "\" cy=\"");
      add_number (out, c.y);
      g_string_append (out, "\" r=\"");
      add_number (out, hole->diameter_mm / 2);
      g_string_append (out, "\"/>\n");
    }
  for (guint i = 0; i < part->lines->len; i++)
    {
      const FwCutLine *line = &g_array_index (part->lines, FwCutLine, i);
      if (group == FW_LINE_CUT && line->kind == FW_LINE_CUT)
        add_outline (out, part, line, at);
      else if ((group == FW_LINE_SCORE && line->kind == FW_LINE_SCORE)
               || (group == FW_LINE_MARK && (line->kind == FW_LINE_MARK || line->kind == FW_LINE_HINGE)))
        add_surface_line (out, part, line, at);
    }
  for (guint i = 0; group == FW_LINE_MARK && i < part->texts->len; i++)
    {
      const FwCutText *text = &g_array_index (part->texts, FwCutText, i);
      if (text->inside)
        add_letters (out, text, at, context);
    }
}

static void
add_group (GString *out, const FwTemplate *tmpl, const FwLaserSheet *sheet, FwLineKind kind,
           const char *id, const char *colour)
{
  PangoContext *context = fw_cut_text_context ();
  g_string_append_printf (out, "<g id=\"%s\" fill=\"none\" stroke=\"%s\" stroke-width=\"" HAIRLINE "\">\n", id,
                          colour);
  for (guint i = 0; i < sheet->placed->len; i++)
    {
      const FwPagePart *at = &g_array_index (sheet->placed, FwPagePart, i);
      const FwCutPart *part = tmpl->parts->pdata[at->part];
      GString *inner = g_string_new (NULL);
      add_part (inner, part, at, kind, context);
      if (inner->len > 0)
        {
          g_autofree char *name = g_strstrip (g_strdup_printf ("%s %s", part->letter, part->name));
          g_string_append_printf (out, "<g id=\"%s-%u\">", id, i + 1);
          add_title (out, name);
          g_string_append_printf (out, "\n%s</g>\n", inner->str);
        }
      g_string_free (inner, TRUE);
    }
  g_string_append (out, "</g>\n");
  g_object_unref (context);
}

char *
fw_laser_sheet_svg (const FwLaserSheets *all, int index)
{
  const FwLaserSheet *sheet = all->sheets->pdata[index];
  GString *out = g_string_new ("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
                               "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"");
  add_number (out, sheet->width_mm);
  g_string_append (out, "mm\" height=\"");
  add_number (out, sheet->height_mm);
  g_string_append (out, "mm\" viewBox=\"0 0 ");
  add_number (out, sheet->width_mm);
  g_string_append_c (out, ' ');
  add_number (out, sheet->height_mm);
  g_string_append (out, "\">\n");
  g_autofree char *thickness = fw_cut_length (sheet->thickness_mm, all->tmpl->lengths);
  /* Translators: title of the design, number of this sheet, of all sheets, material, thickness */
  g_autofree char *title = g_strdup_printf (_ ("%s, sheet %d of %u: %s, %s"), all->tmpl->title, index + 1,
                                            all->sheets->len, fw_material_words (sheet->material), thickness);
  add_title (out, title);
  g_string_append (out, "\n<desc>");
  add_escaped (out, _ ("Engrave, then score, then cut. Lines are true edges: no kerf is allowed for. Lasers "
                       "burn and blind: keep to the machine's own rules, never leave it alone, cut only what "
                       "its maker allows."));
  g_string_append (out, "</desc>\n");
  add_group (out, all->tmpl, sheet, FW_LINE_MARK, "engrave", "#000000");
  add_group (out, all->tmpl, sheet, FW_LINE_SCORE, "score", "#0000ff");
  add_group (out, all->tmpl, sheet, FW_LINE_CUT, "cut", "#ff0000");
  g_string_append (out, "</svg>\n");
  return g_string_free (out, FALSE);
}

/* ---- Files ---- */

char *
fw_laser_sheet_path (const char *path, int sheet, int n_sheets)
{
  if (n_sheets == 1)
    return g_strdup (path);
  const char *dot = strrchr (path, '.');
  gsize stem = dot == NULL || strchr (dot, '/') != NULL ? strlen (path) : (gsize)(dot - path);
  return g_strdup_printf ("%.*s-%d%s", (int)stem, path, sheet + 1, path + stem);
}

static gboolean
write_one (const FwLaserSheets *all, int sheet, const char *path, FwFileBatch *files, GError **error)
{
  g_autofree char *file = fw_laser_sheet_path (path, sheet, (int)all->sheets->len);
  g_autofree char *text = fw_laser_sheet_svg (all, sheet);
  return fw_file_batch_put (files, file, text, strlen (text), error);
}

gboolean
fw_laser_sheets_write_svg (const FwLaserSheets *all, const char *path, const FwProgress *progress,
                           GError **error)
{
  FwFileBatch files;
  GError *failed = NULL;
  guint n = all->sheets->len;
  fw_file_batch_open (&files);
  for (guint i = 0; i < n && failed == NULL; i++)
    {
      if (!fw_progress (progress, (double)i / n, _ ("Writing sheets")))
        fw_progress_stopped (&failed);
      else
        write_one (all, (int)i, path, &files, &failed);
    }
  if (fw_file_batch_close (&files, failed == NULL, failed == NULL ? &failed : NULL))
    return TRUE;
  g_propagate_error (error, failed);
  return FALSE;
}
