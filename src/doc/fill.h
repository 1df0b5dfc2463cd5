/* Sentences with a gap for one word, where the sentence comes from a table and so cannot be checked
 * as a printf format; and what people typed, made fit to be said again. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* The sentence with its one "%s", if any, replaced. */
char *fw_fill (const char *sentence, const char *word);

/* The text as one line of valid UTF-8: control characters and line ends become blanks. What a message quotes
 * may come from anywhere, and a terminal obeys control characters. Free with g_free. */
char *fw_one_line (const char *text);

/* Whether a control character is in the text, valid UTF-8: U+0000 to U+001F, U+007F to U+009F. */
gboolean fw_has_control (const char *text);

G_END_DECLS
