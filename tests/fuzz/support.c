#include "fuzz.h"

#include <glib/gstdio.h>
#include <locale.h>
#include <string.h>
#include <unistd.h>

const char fuzz_design_text[]
    = "{\"format\":\"flapwright design\",\"version\":1,\"title\":\"Two wings\",\n"
      "\"crank\":{\"runs\":\"across\",\"turns_per_minute\":40,\"diameter\":8,\"throws\":[\n"
      "{\"name\":\"mid\",\"radius\":40,\"phase\":0,\"station\":0},\n"
      "{\"name\":\"in\",\"radius\":30,\"phase\":180,\"station\":150,\"side\":\"both\"}]},\n"
      "\"body\":{\"ride\":\"sleeve\",\"throw\":\"mid\",\"post\":420,\"guide\":[0,180],\"mass\":900,\"centre\":[0,35,60],"
      "\"gyration\":140},\n"
      "\"panels\":[{\"name\":\"inner\",\"side\":\"both\",\"on\":\"body\",\"hinge\":[45,0,0],\"span\":210,\"stops\":[-60,60],"
      "\"outline\":[[0,60],[210,40],[200,-50],[0,-60]],\"mass\":160,\"centre\":[105,-10,0],"
      "\"inertia\":[300000,600000,900000,0]},\n"
      "{\"name\":\"tip\",\"side\":\"both\",\"on\":\"inner\",\"hinge\":[210,0,0],\"span\":90,\"stops\":[-30,10],\"mass\":20,"
      "\"centre\":[45,0,0]}],\n"
      "\"rods\":[{\"name\":\"inrod\",\"side\":\"both\",\"from\":{\"throw\":\"in\"},\"to\":{\"panel\":\"inner\","
      "\"at\":[140,0,-12]},\"length\":412,\"near\":0,\"mass\":30,\"diameter\":4,\"material\":\"steel\"}],\n"
      "\"base\":{\"plate\":[400,300,18],\"top\":-60}}\n";

static GString *said; /* on standard error, by the verb that runs */

char *
fuzz_line (const uint8_t **data, size_t *size)
{
  const uint8_t *end = *size == 0 ? NULL : memchr (*data, '\n', *size);
  size_t length = end ? (size_t)(end - *data) : *size;
  char *line = g_strndup ((const char *)*data, length);
  size_t used = end ? length + 1 : length;
  *data += used;
  *size -= used;
  return line;
}

static void
keep_words (const char *text)
{
  g_string_append (said, text);
}

void
fuzz_begin (void)
{
  if (said)
    return;
  said = g_string_new (NULL);
  setlocale (LC_ALL, "C.UTF-8");
  g_log_set_always_fatal (G_LOG_LEVEL_CRITICAL | G_LOG_LEVEL_WARNING | G_LOG_FLAG_RECURSION | G_LOG_LEVEL_ERROR);
  g_set_printerr_handler (keep_words);
  g_set_prgname ("flapwright-cli");
}

/* ---- The folder ---- */

static char *folder;
static GHashTable *written;

static void
remove_all (const char *path)
{
  GDir *dir = g_dir_open (path, 0, NULL);
  const char *name;
  while (dir && (name = g_dir_read_name (dir)))
    {
      g_autofree char *file = g_build_filename (path, name, NULL);
      if (g_file_test (file, G_FILE_TEST_IS_DIR) && !g_file_test (file, G_FILE_TEST_IS_SYMLINK))
        remove_all (file);
      g_remove (file);
    }
  if (dir)
    g_dir_close (dir);
}

static void
leave_folder (void)
{
  remove_all (folder);
  fuzz_require (chdir ("/") == 0);
  g_rmdir (folder);
  g_free (folder);
  g_hash_table_unref (written);
}

const char *
fuzz_folder (void)
{
  if (folder)
    return folder;
  written = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  folder = g_dir_make_tmp ("flapwright-fuzz-XXXXXX", NULL);
  fuzz_require (folder && chdir (folder) == 0);
  atexit (leave_folder);
  return folder;
}

void
fuzz_clear_folder (void)
{
  remove_all (fuzz_folder ());
  g_hash_table_remove_all (written);
}

gboolean
fuzz_folder_has_news (void)
{
  GDir *dir = g_dir_open (folder, 0, NULL);
  const char *name;
  gboolean news = FALSE;
  while ((name = g_dir_read_name (dir)))
    news = news || !g_hash_table_contains (written, name);
  g_dir_close (dir);
  return news;
}

void
fuzz_write (const char *name, const void *bytes, size_t size)
{
  g_autofree char *path = g_build_filename (fuzz_folder (), name, NULL);
  g_hash_table_add (written, g_strdup (name));
  fuzz_require (g_file_set_contents_full (path, bytes, (gssize)size, G_FILE_SET_CONTENTS_NONE, 0600, NULL));
}

/* ---- A call ---- */

int fw_cli_main (int argc, char **argv);

int
fuzz_call (int argc, char **argv)
{
  g_autofree char **words = g_memdup2 (argv, sizeof (char *) * ((gsize)argc + 1)); /* a parser may shift them */
  g_string_truncate (said, 0);
  int status = fw_cli_main (argc, words);
  fuzz_require (status >= 0 && status <= 2);
  if (status != 2)
    return status;
  fuzz_require (said->len > 0 && strchr (said->str, '\n') == said->str + said->len - 1);
  fuzz_require (!fuzz_folder_has_news ());
  return status;
}
