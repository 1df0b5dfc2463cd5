/* What the tests of this layer share. */
#pragma once

#include <glib.h>

#include "doc/document.h"

/* Text of tests/doc/valid/NAME.flap, or .../invalid/NAME.flap. */
char *test_valid_text (const char *name);
char *test_corpus_path (const char *folder, const char *name);

/* Opens text that must be valid. */
FwDocument *test_open (const char *text);
FwDocument *test_open_valid (const char *name);

/* The number at a key path such as "rods.pull.length". */
FwParam test_param (const FwDocument *doc, const char *path);
double test_number (const FwDocument *doc, const char *path);
gboolean test_change (FwDocument *doc, const char *path, double value, const char *merge_key);

/* A fresh folder, and what goes with it. */
char *test_new_folder (void);
void test_remove_folder (const char *folder);
guint test_count_files (const char *folder);

/* German number marks for this process, or FALSE if this machine cannot make them. */
gboolean test_use_german_locale (const char *folder);

/* One line, "NAME: PLACE: ..." */
void test_assert_one_line (const GError *error, const char *name);

/* The document reads as it did: takes over `before`, a text of it. */
void test_assert_text_is (const FwDocument *doc, char *before);
