/* What the fuzz targets share. Each is one LLVMFuzzerTestOneInput (), which libFuzzer calls (campaign.sh)
 * or replay.c does (every run of the tests). */
#pragma once

#include <glib.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

int LLVMFuzzerTestOneInput (const uint8_t *data, size_t size);

/* What does not hold is a finding. */
static inline void
fuzz_require (gboolean holds)
{
  if (!holds)
    abort ();
}

/* One line of UTF-8, as every message that tells of bad input. */
static inline void
fuzz_require_line (const GError *error)
{
  fuzz_require (error && error->message[0] != '\0' && g_utf8_validate (error->message, -1, NULL));
  for (const char *c = error->message; *c; c++)
    fuzz_require ((guchar)*c >= 32);
}

/* FALSE in `data`: nothing left. The next line, ended by a line feed, and cut off the rest; free with g_free. */
char *fuzz_line (const uint8_t **data, size_t *size);

/* A design of two wings, a body in a sleeve, wishes, a log and a version. */
extern const char fuzz_design_text[];

/* What complains through GLib is a finding too. To be called first by each target. */
void fuzz_begin (void);

/* A folder of our own, made once and gone to; what a run leaves there is removed by fuzz_clear_folder (). */
const char *fuzz_folder (void);
void fuzz_clear_folder (void);
/* Whether a file or folder lies there that fuzz_write () did not write. */
gboolean fuzz_folder_has_news (void);
void fuzz_write (const char *name, const void *bytes, size_t size);

/* A verb of flapwright-cli, with its words; returns its exit status. What it says goes nowhere, but is held
 * against the contract: status 2 with one line, and nothing written then. */
int fuzz_call (int argc, char **argv);
