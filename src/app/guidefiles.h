/* Where the pages of the guide lie: in English in one folder, and in other languages in folders of it ("de", "fr") with the
 * same names. A page that is not there in the language of the program is shown in English. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* The folder of the English pages, NULL if the guide is not installed. New string. */
char *fw_guide_folder (void);

/* The file of a page ("tutorial.md") of `folder`: as translated if it is, else in English. New string. */
char *fw_guide_file (const char *folder, const char *name);

/* Whether the guide has pages in the program's language, but not this one. */
gboolean fw_guide_only_in_english (const char *folder, const char *name);

/* A link of a page as a place of the guide: "../words.md#throw", as a translated page has it, is "words.md#throw".
 * NULL if it leads out of the guide. New string. */
char *fw_guide_place (const char *folder, const char *link);

/* Which heading of a page in Markdown a link calls `anchor`: 0 is the first, -1: none. A translated page has the same
 * headings in other words. */
int fw_guide_heading_number (const char *text, const char *anchor);

/* A heading as links to it say it: small letters, hyphens for spaces, no other marks. New string. */
char *fw_guide_anchor (const char *heading);

/* The page's first heading, or its file name. New string. */
char *fw_guide_title (const char *text, const char *name);

G_END_DECLS
