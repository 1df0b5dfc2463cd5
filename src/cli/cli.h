/* Shared by the verbs of flapwright-cli. */
#pragma once

#include <glib.h>
#include <stdlib.h>

#include "core/trouble.h"
#include "doc/document.h"
#include "doc/units.h"

G_BEGIN_DECLS

/* Exit status of every verb. */
enum { FW_EXIT_FINE = 0, FW_EXIT_TROUBLE = 1, FW_EXIT_REFUSED = 2 };

/* The most steps and frames asked for in one call. */
#define FW_CLI_MOST_STEPS 100000

/* Everything a verb works on. */
typedef struct
{
  FwDocument *doc;
  FwMechanism *mech;
  FwTurn *turn; /* solved */
} FwJob;

/* Reads FILE ("-": standard input), builds and solves it. Says why not, in one line, on standard error. */
gboolean fw_job_open (FwJob *job, const char *file, int steps);
void fw_job_close (FwJob *job);

/* True if some loop cannot be assembled somewhere in the turn, however short the stretch. */
gboolean fw_job_cannot_go_round (const FwJob *job);

/* Parses the options of a verb; what is left must be exactly one FILE, which is returned (g_free).
 * NULL: a line was written; *status says how to exit (0 after --help). */
char *fw_cli_options (int argc, char **argv, const char *verb, const char *summary,
                      const GOptionEntry *entries, int *status);

/* One line on standard error; returns FW_EXIT_REFUSED. */
int fw_cli_refuse (const char *format, ...) G_GNUC_PRINTF (1, 2);

/* Reads what --lengths says (NULL: mm). FALSE: a line was written, and *status says how to exit. */
gboolean fw_cli_lengths (const char *verb, const char *text, FwLengths *lengths, int *status);

/* A number as people read it, with the locale's decimal mark (g_free); `format` takes one double.
 * Tables, JSON and files never use this: they have a point everywhere. */
char *fw_cli_number (double value, const char *format);

/* A length in mm as people read it, as exact as `format` says (one double), with its unit: "0.0123 mm" or,
 * in decimals, "0.000484 in" (g_free). For what is small or sets no saw; else fw_units_format (). */
char *fw_cli_length (double mm, const char *format, FwLengths lengths);

/* The text and as many blanks as make it `width` characters wide: after it, or before it where `width`
 * is negative (g_free). printf counts bytes, which is another thing outside English. */
char *fw_cli_column (const char *text, int width);

/* Writes text to standard output; a failure is said, and changes the status. */
int fw_cli_print (const char *text, int status);

int fw_verb_turn (int argc, char **argv);
int fw_verb_check (int argc, char **argv);
int fw_verb_cut (int argc, char **argv);
int fw_verb_loads (int argc, char **argv);
int fw_verb_strip (int argc, char **argv);
int fw_verb_log (int argc, char **argv);
int fw_verb_flipbook (int argc, char **argv);
int fw_verb_animate (int argc, char **argv);
int fw_verb_aim (int argc, char **argv);
int fw_verb_helps (int argc, char **argv);
int fw_verb_versions (int argc, char **argv);
int fw_verb_templates (int argc, char **argv);
int fw_verb_parts (int argc, char **argv);
int fw_verb_kit (int argc, char **argv);
int fw_verb_scale (int argc, char **argv);
int fw_verb_fit (int argc, char **argv);
int fw_verb_tolerance (int argc, char **argv);
int fw_verb_thumbnail (int argc, char **argv);
int fw_verb_explain (int argc, char **argv);

G_END_DECLS
