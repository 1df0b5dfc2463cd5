/* Sentences with a gap for one word, where the sentence comes from a table and so cannot be checked
 * as a printf format. Internal to this layer. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* The sentence with its one "%s", if any, replaced. */
char *fw_fill (const char *sentence, const char *word);

G_END_DECLS
