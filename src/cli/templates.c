/* templates: what is cut from sheet, at true size: PDF for paper, SVG for a laser. */
#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "cli/cli.h"
#include "cli/patience.h"
#include "shop/pdf.h"
#include "shop/svg.h"

#define STEPS 36
#define LEAST_SHEET 20.0
#define MOST_SHEET 10000.0

typedef struct
{
  const char *path;
  gboolean svg;
  FwPaper paper;
  double width_mm, height_mm; /* of a sheet; 0: not given */
  FwLengths lengths;
} Order;

/* "600x400": mm, with a point. */
static gboolean
parse_sheet (const char *text, double *width_mm, double *height_mm)
{
  char *end;
  double w = g_ascii_strtod (text, &end);
  if (end == text || (*end != 'x' && *end != 'X'))
    return FALSE;
  const char *second = end + 1;
  double h = g_ascii_strtod (second, &end);
  if (end == second || *end != '\0' || !g_ascii_isdigit (*text) || !g_ascii_isdigit (*second))
    return FALSE;
  if (!(w >= LEAST_SHEET && w <= MOST_SHEET && h >= LEAST_SHEET && h <= MOST_SHEET))
    return FALSE;
  *width_mm = w;
  *height_mm = h;
  return TRUE;
}

static gboolean
ends_with (const char *path, const char *ending)
{
  gsize n = strlen (path), m = strlen (ending);
  return n > m && g_ascii_strcasecmp (path + n - m, ending) == 0;
}

/* FALSE: a line was written. */
static gboolean
read_order (Order *order, const char *path, const char *paper, const char *sheet)
{
  if (path == NULL || (!ends_with (path, ".pdf") && !ends_with (path, ".svg")))
    {
      fw_cli_refuse (_ ("templates: expected -o with a file name that ends in .pdf or .svg"));
      return FALSE;
    }
  order->path = path;
  order->svg = ends_with (path, ".svg");
  if (order->svg ? paper != NULL : sheet != NULL)
    {
      fw_cli_refuse (order->svg ? _ ("templates: --paper: expected with a .pdf file; the sheets of an .svg "
                                     "file are set with --sheet")
                                : _ ("templates: --sheet: expected with an .svg file; the paper of a .pdf "
                                     "file is set with --paper"));
      return FALSE;
    }
  if (paper != NULL && !fw_paper_from_name (paper, &order->paper))
    {
      fw_cli_refuse (_ ("templates: --paper: expected a4, a3, letter, tabloid or one, found “%s”"), paper);
      return FALSE;
    }
  if (sheet != NULL && !parse_sheet (sheet, &order->width_mm, &order->height_mm))
    {
      fw_cli_refuse (_ ("templates: --sheet: expected width x height in mm, 20 to 10000 each, such as "
                        "600x400, found “%s”"),
                     sheet);
      return FALSE;
    }
  return TRUE;
}

/* One line on what is left out; nothing was placed: refused. */
static int
tell_left_out (const char *given, char **left_out, gboolean any_placed)
{
  const char *file = strcmp (given, "-") == 0 ? _ ("standard input") : given;
  int n = (int)g_strv_length (left_out);
  if (n == 0 && any_placed)
    return FW_EXIT_FINE;
  if (n == 0)
    return fw_cli_refuse (_ ("%s: there is nothing to cut from sheet in this design"), file);
  if (n == 1)
    fw_cli_refuse ("%s: %s", file, left_out[0]);
  else
    fw_cli_refuse (ngettext ("%s: %s (and %d more)", "%s: %s (and %d more)", (gulong)n - 1), file,
                   left_out[0], n - 1);
  return any_placed ? FW_EXIT_TROUBLE : FW_EXIT_REFUSED;
}

static int
write_pdf (const Order *order, const FwTemplate *tmpl, const char *file)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (FwTemplatePages) pages = fw_template_pages_new (tmpl, order->paper);
  gboolean any = pages->n_parts_placed > 0;
  fw_cli_begin_long ();
  gboolean written = !any || fw_template_write_pdf (pages, order->path, fw_cli_progress (), &error);
  fw_cli_end_long ();
  if (!written)
    return fw_cli_refuse ("%s", error->message);
  return tell_left_out (file, pages->left_out, any);
}

static int
write_svg (const Order *order, const FwTemplate *tmpl, const FwStock *stock, const char *file)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (FwLaserSheets) sheets
      = fw_laser_sheets_new (tmpl, stock, order->width_mm, order->height_mm);
  gboolean any = sheets->sheets->len > 0;
  fw_cli_begin_long ();
  gboolean written = !any || fw_laser_sheets_write_svg (sheets, order->path, fw_cli_progress (), &error);
  fw_cli_end_long ();
  if (!written)
    return fw_cli_refuse ("%s", error->message);
  return tell_left_out (file, sheets->left_out, any);
}

int
fw_verb_templates (int argc, char **argv)
{
  Order order = { .paper = FW_PAPER_A4 };
  int status;
  g_autofree char *path = NULL, *paper = NULL, *sheet = NULL, *units = NULL;
  const GOptionEntry entries[] = {
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &path, N_ ("The file to write: .pdf for paper, .svg for a laser"), N_ ("OUT") },
    { "paper", 0, 0, G_OPTION_ARG_STRING, &paper, N_ ("PDF: a4 (the default), a3, letter, tabloid, or one large sheet"), N_ ("PAPER") },
    { "sheet", 0, 0, G_OPTION_ARG_STRING, &sheet, N_ ("SVG: size of a sheet in mm (the stock's, else 600x400)"), N_ ("WxH") },
    { "lengths", 0, 0, G_OPTION_ARG_STRING, &units, N_ ("mm (the default) or inch, in the words on the parts"), N_ ("UNIT") },
    { NULL },
  };
  g_autofree char *file
      = fw_cli_options (argc, argv, "templates",
                        _ ("Templates at true size. Exit status 1: a part is larger than the paper or sheet allows; "
                           "the others are written."),
                        entries, &status);
  if (file == NULL)
    return status;
  if (!read_order (&order, path, paper, sheet))
    return FW_EXIT_REFUSED;
  if (!fw_cli_lengths ("templates", units, &order.lengths, &status))
    return status;
  FwJob job;
  if (!fw_job_open (&job, file, STEPS))
    return FW_EXIT_REFUSED;
  g_autoptr (FwTemplate) tmpl = fw_template_new (job.mech, fw_document_title (job.doc),
                                                 order.lengths);
  status = order.svg ? write_svg (&order, tmpl, &job.mech->design->stock, file)
                     : write_pdf (&order, tmpl, file);
  fw_job_close (&job);
  return status;
}
