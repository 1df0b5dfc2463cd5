/* The command line: a word a line up to an empty line; what follows is the file "f". "d.flap" is a sound design,
 * "m.csv" a sound table. No word leads out of the folder, and numbers of work are kept small. */
#include "fuzz.h"

#include <string.h>

#define MOST_WORDS 24

/* "--runs=4000" -> "--runs=40": what is asked for in full would take long. Longer numbers are refused anyway. */
static void
lessen (char *word)
{
  char *from = strrchr (word, '=') ? strrchr (word, '=') + 1 : word;
  size_t digits = strspn (from, "0123456789");
  if (digits > 2 && digits < 7 && from[digits] == '\0')
    from[2] = '\0';
}

static void
keep_inside (char *word)
{
  g_strdelimit (word, "/", '_');
  if (strcmp (word, "..") == 0 || strcmp (word, "-") == 0)
    word[0] = 'f';
  for (char *dots = strstr (word, ".."); dots; dots = strstr (dots + 1, ".."))
    if (dots[2] == '\0' && dots > word && dots[-1] == '=')
      dots[0] = 'f'; /* --output=.. */
}

static int
read_words (const uint8_t **data, size_t *size, char **argv)
{
  int argc = 1;
  argv[0] = g_strdup ("flapwright-cli");
  while (*size > 0)
    {
      char *word = fuzz_line (data, size);
      if (word[0] == '\0' || argc == MOST_WORDS)
        {
          g_free (word);
          break;
        }
      keep_inside (word);
      lessen (word);
      argv[argc++] = word;
      /* First, so that what is asked for comes after and holds. */
      if (argc == 2 && (strcmp (word, "aim") == 0 || strcmp (word, "tolerance") == 0))
        argv[argc++] = g_strdup ("--runs=2");
    }
  argv[argc] = NULL;
  return argc;
}

static void
write_files (const uint8_t *data, size_t size)
{
  static const char table[] = "crank_deg,body.z_mm,inner.right.angle_deg\n0,460,-28.9\n30,450.7,-23.1\n90,410,4.9\n";
  fuzz_write ("d.flap", fuzz_design_text, strlen (fuzz_design_text));
  fuzz_write ("m.csv", table, strlen (table));
  fuzz_write ("f", data, size);
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  char *argv[MOST_WORDS + 2];
  fuzz_begin ();
  fuzz_folder ();
  int argc = read_words (&data, &size, argv);
  write_files (data, size);
  fuzz_call (argc, argv);
  for (int i = 0; i < argc; i++)
    g_free (argv[i]);
  fuzz_clear_folder ();
  return 0;
}
