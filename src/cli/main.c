/* flapwright-cli: the whole computation without a display. */
#include <glib/gi18n.h>
#include <locale.h>
#include <string.h>

#include "cli/cli.h"

static const struct
{
  const char *name;
  int (*run) (int argc, char **argv);
  const char *what;
} verbs[] = {
  { "turn", fw_verb_turn, N_ ("one turn of the crank as a table") },
  { "check", fw_verb_check, N_ ("what goes wrong, and what mends it") },
  { "loads", fw_verb_loads, N_ ("peak forces, and where in the turn they stand") },
  { "aim", fw_verb_aim, N_ ("numbers with which it does what you wish") },
  { "helps", fw_verb_helps, N_ ("which numbers move the thing in hand") },
  { "versions", fw_verb_versions, N_ ("designs kept by name in the file") },
  { "strip", fw_verb_strip, N_ ("the motion as a plate of frames (PNG)") },
  { "animate", fw_verb_animate, N_ ("one turn as an animated picture (GIF)") },
  { "flipbook", fw_verb_flipbook, N_ ("one turn as a flip-book to print (PDF)") },
  { "log", fw_verb_log, N_ ("the build log: what changed and what it did") },
  { "cut", fw_verb_cut, N_ ("what to cut, laid into the stock; settings and assembly") },
  { "templates", fw_verb_templates, N_ ("what is cut, at true size (PDF, SVG)") },
  { "kit", fw_verb_kit, N_ ("a booklet to build it from (PDF)") },
  { "parts", fw_verb_parts, N_ ("printed parts that fit (3MF, STL)") },
  { "scale", fw_verb_scale, N_ ("the same motion at another size") },
  { "fit", fw_verb_fit, N_ ("what was really built, from measurements") },
  { "tolerance", fw_verb_tolerance, N_ ("how often it goes round, made by hand") },
  { "explain", fw_verb_explain, N_ ("what a quantity means, in plain words") },
  { "thumbnail", fw_verb_thumbnail, N_ ("a small picture for file managers (PNG)") },
};

static int
show_help (void)
{
  GString *out = g_string_new (NULL);
  g_string_append (out, _ ("Usage: flapwright-cli VERB FILE [OPTIONS]\n\n"
                           "Computes a crank-driven flapping sculpture from its design file (- reads standard input).\n\n"));
  for (gsize i = 0; i < G_N_ELEMENTS (verbs); i++)
    g_string_append_printf (out, "  %-10s %s\n", verbs[i].name, _ (verbs[i].what));
  g_string_append (out, _ ("\n  flapwright-cli VERB --help tells of a verb's options\n"
                           "  --version, --help\n\n"
                           "Exit status: 0 nothing wrong; 1 trouble found, or the design cannot go round;\n"
                           "2 the call or the file was refused, and nothing was written.\n"));
  int status = fw_cli_print (out->str, FW_EXIT_FINE);
  g_string_free (out, TRUE);
  return status;
}

int
main (int argc, char **argv)
{
  (void) setlocale (LC_ALL, ""); /* an unknown locale leaves the plain one */
  const char *elsewhere = g_getenv ("TEXTDOMAINDIR"); /* as gettext's own programs: a catalogue not yet installed */
  bindtextdomain (GETTEXT_PACKAGE, elsewhere != NULL ? elsewhere : FW_LOCALEDIR);
  bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
  textdomain (GETTEXT_PACKAGE);
  g_set_prgname ("flapwright-cli");

  if (argc < 2)
    return fw_cli_refuse (_ ("expected a verb, such as check (--help lists them)"));
  if (strcmp (argv[1], "--help") == 0 || strcmp (argv[1], "-h") == 0)
    return show_help ();
  if (strcmp (argv[1], "--version") == 0)
    return fw_cli_print ("flapwright " FW_VERSION "\n", FW_EXIT_FINE);
  for (gsize i = 0; i < G_N_ELEMENTS (verbs); i++)
    if (strcmp (argv[1], verbs[i].name) == 0)
      return verbs[i].run (argc - 1, argv + 1);
  return fw_cli_refuse (_ ("“%s”: expected a verb, such as check (--help lists them)"), argv[1]);
}
