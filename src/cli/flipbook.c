/* flipbook: one turn as leaves to print, cut and staple. */
#include <glib/gi18n.h>
#include <string.h>

#include "cli/cli.h"
#include "cli/patience.h"
#include "cli/scene.h"
#include "shop/flipbook.h"

#define STEPS 360

/* Letter is used where lengths are in inches. */
static gboolean
parse_paper (const char *text, FwFlipbook *book)
{
  if (text != NULL && strcmp (text, "a4") != 0 && strcmp (text, "letter") != 0)
    return FALSE;
  gboolean letter = g_strcmp0 (text, "letter") == 0;
  book->paper = letter ? FW_FLIPBOOK_LETTER : FW_FLIPBOOK_A4;
  book->lengths = letter ? FW_LENGTHS_INCH : FW_LENGTHS_MM;
  return TRUE;
}

int
fw_verb_flipbook (int argc, char **argv)
{
  FwFlipbook book = fw_flipbook_default ();
  int status;
  g_autofree char *view = NULL, *path = NULL, *paper = NULL;
  const GOptionEntry entries[] = {
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &path, N_ ("The PDF file to write"), N_ ("OUT.pdf") },
    { "frames", 0, 0, G_OPTION_ARG_INT, &book.frames, N_ ("Frames in the turn (48)"), N_ ("N") },
    { "view", 0, 0, G_OPTION_ARG_STRING, &view, N_ ("both (the default), front or side"), N_ ("VIEW") },
    { "paper", 0, 0, G_OPTION_ARG_STRING, &paper, N_ ("a4 (the default) or letter"), N_ ("PAPER") },
    { NULL },
  };
  g_autofree char *file = fw_cli_options (
      argc, argv, "flipbook",
      _ ("One turn as a flip-book to print, cut and staple. Exit status 1: the design cannot go round."), entries,
      &status);
  if (file == NULL)
    return status;
  if (path == NULL)
    return fw_cli_refuse (_ ("flipbook: expected -o with the name of the PDF file to write"));
  if (book.frames < FW_FLIPBOOK_LEAST_FRAMES || book.frames > FW_FLIPBOOK_MOST_FRAMES)
    return fw_cli_refuse (_ ("flipbook: --frames: expected a whole number from %d to %d, found %d"),
                          FW_FLIPBOOK_LEAST_FRAMES, FW_FLIPBOOK_MOST_FRAMES, book.frames);
  if (!fw_cli_parse_view (view, &book.views))
    return fw_cli_refuse (_ ("flipbook: --view: expected both, front or side, found “%s”"), view);
  if (!parse_paper (paper, &book))
    return fw_cli_refuse (_ ("flipbook: --paper: expected a4 or letter, found “%s”"), paper);

  FwJob job;
  if (!fw_job_open (&job, file, STEPS))
    return FW_EXIT_REFUSED;
  g_autoptr (GError) error = NULL;
  FwCliScene stage;
  status = FW_EXIT_REFUSED;
  if (fw_cli_scene_open (&stage, &job))
    {
      fw_cli_begin_long ();
      gboolean written = fw_flipbook_write_pdf (&stage.scene, &book, fw_document_title (job.doc), path, fw_cli_progress (), &error);
      fw_cli_end_long ();
      status = written ? FW_EXIT_FINE : fw_cli_refuse ("%s", error->message);
      fw_cli_scene_close (&stage);
    }
  if (status == FW_EXIT_FINE && fw_job_cannot_go_round (&job))
    status = FW_EXIT_TROUBLE;
  fw_job_close (&job);
  return status;
}
