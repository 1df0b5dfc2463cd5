/* replay CORPUS [SECONDS [SEED]]: gives every kept input to a fuzz target, then for some seconds inputs made
 * of them by chance, always the same for a seed. The target runs in a child, so that what ends it is told
 * with the input that did; that is kept in the folder for temporary files. TAP. */
#include "fuzz.h"

#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/wait.h>
#include <unistd.h>

#define MOST_BYTES 16384
#define PATIENCE 60 /* seconds for one input, sanitizers and a busy machine allowed for */

void __sanitizer_set_report_fd (void *fd) __attribute__ ((weak));

/* Shared by both processes. */
typedef struct
{
  gsize size;
  guint tried;
  guint8 bytes[MOST_BYTES];
} Now;

typedef struct
{
  Now *now;
  GPtrArray *kept; /* GBytes */
  double seconds;
  guint32 seed;
} Run;

static void
try (Now *now, const guint8 *bytes, gsize size)
{
  now->size = MIN (size, MOST_BYTES);
  if (now->size > 0)
    memmove (now->bytes, bytes, now->size);
  now->tried++;
  /* A block of its own size: reading past its end is noticed. */
  g_autofree guint8 *copy = g_memdup2 (now->bytes, now->size);
  alarm (PATIENCE);
  LLVMFuzzerTestOneInput (copy ? copy : (const guint8 *)"", now->size);
  alarm (0);
}

/* ---- Inputs by chance ---- */

static const char *const hostile[]
    = { "0", "-0", "-1", "1e-6", "1e5", "-1e5", "999999", "1e6", "1e-308", "1e999", "0.1", "90", "180", "360", "2147483648",
        "NaN", "\"\"", "[]", "{}", "null", "true", "..", "=", ",", "\n", "\xc3\xa9", "\xff", "%s", "1/0", "1 1/2\"" };

static guint
below (GRand *rand, gsize most)
{
  return most > 0 ? (guint)g_rand_int_range (rand, 0, (gint32)most) : 0;
}

static void
put (GByteArray *a, guint at, const guint8 *bytes, guint n)
{
  guint tail = a->len - at;
  if (n == 0)
    return;
  g_byte_array_set_size (a, a->len + n);
  memmove (a->data + at + n, a->data + at, tail);
  memcpy (a->data + at, bytes, n);
}

/* A number, if there is one behind `at`, makes room for another. */
static void
swap_number (GByteArray *a, guint at, const char *word)
{
  while (at < a->len && !g_ascii_isdigit (a->data[at]))
    at++;
  guint end = at;
  while (end < a->len && (g_ascii_isdigit (a->data[end]) || a->data[end] == '.'))
    end++;
  if (end > at)
    g_byte_array_remove_range (a, at, end - at);
  put (a, at, (const guint8 *)word, (guint)strlen (word));
}

static void
change (GByteArray *a, const GPtrArray *kept, GRand *rand)
{
  guint at = below (rand, a->len + 1), n = 1 + below (rand, 20), more = 1 + below (rand, 60);
  gsize size;
  const guint8 *other = g_bytes_get_data (g_ptr_array_index (kept, below (rand, kept->len)), &size);
  guint from = below (rand, size + 1);
  const char *word = hostile[below (rand, G_N_ELEMENTS (hostile))];
  switch (below (rand, 6))
    {
    case 0:
      if (at < a->len)
        a->data[at] ^= (guint8)(1 << below (rand, 8));
      break;
    case 1:
      g_byte_array_remove_range (a, at, MIN (n, a->len - at));
      break;
    case 2:
      put (a, at, (const guint8 *)word, (guint)strlen (word));
      break;
    case 3:
      put (a, at, other + from, MIN (more, (guint)size - from));
      break;
    default:
      swap_number (a, at, word);
    }
}

static void
by_chance (const Run *run)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (run->seed);
  gint64 end = g_get_monotonic_time () + (gint64)(run->seconds * G_USEC_PER_SEC);
  while (g_get_monotonic_time () < end)
    {
      gsize size;
      const guint8 *bytes = g_bytes_get_data (g_ptr_array_index (run->kept, below (rand, run->kept->len)), &size);
      g_autoptr (GByteArray) a = g_byte_array_new ();
      g_byte_array_append (a, bytes, (guint)size);
      for (guint i = 1 + below (rand, 4); i > 0; i--)
        change (a, run->kept, rand);
      try (run->now, a->data, a->len);
    }
}

/* ---- A child for each part ---- */

static void
be_child (const Run *run, gboolean random)
{
  int report = dup (STDERR_FILENO), nowhere = open ("/dev/null", O_WRONLY);
  if (__sanitizer_set_report_fd)
    __sanitizer_set_report_fd ((void *)(gintptr)report);
  dup2 (nowhere, STDOUT_FILENO); /* what verbs print is not TAP */
  run->now->tried = 0;
  if (random)
    by_chance (run);
  for (guint i = 0; !random && i < run->kept->len; i++)
    {
      gsize size;
      const guint8 *bytes = g_bytes_get_data (g_ptr_array_index (run->kept, i), &size);
      try (run->now, bytes, size);
    }
  exit (0);
}

/* "" if all is well. */
static char *
part (const Run *run, gboolean random)
{
  int status;
  fflush (stdout);
  pid_t child = fork ();
  if (child == 0)
    be_child (run, random);
  waitpid (child, &status, 0);
  if (WIFEXITED (status) && WEXITSTATUS (status) == 0)
    return g_strdup ("");
  g_autofree char *file = g_strdup_printf ("%s/flapwright-fuzz-%d", g_get_tmp_dir (), (int)child);
  g_file_set_contents (file, (const char *)run->now->bytes, (gssize)run->now->size, NULL);
  if (WIFSIGNALED (status) && WTERMSIG (status) == SIGALRM)
    return g_strdup_printf ("took more than %d s; its input is %s", PATIENCE, file);
  return WIFSIGNALED (status) ? g_strdup_printf ("ended by signal %d; the last input is %s", WTERMSIG (status), file)
                              : g_strdup_printf ("ended with status %d; the last input is %s", WEXITSTATUS (status), file);
}

static int
by_name (gconstpointer a, gconstpointer b)
{
  return strcmp (*(char *const *)a, *(char *const *)b);
}

static GPtrArray *
read_corpus (const char *folder)
{
  GPtrArray *kept = g_ptr_array_new_with_free_func ((GDestroyNotify)g_bytes_unref);
  GPtrArray *names = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;
  while (dir && (name = g_dir_read_name (dir)))
    g_ptr_array_add (names, g_build_filename (folder, name, NULL));
  g_ptr_array_sort (names, by_name);
  for (guint i = 0; i < names->len; i++)
    {
      char *text;
      gsize size;
      if (g_file_get_contents (g_ptr_array_index (names, i), &text, &size, NULL))
        g_ptr_array_add (kept, g_bytes_new_take (text, size));
    }
  g_ptr_array_unref (names);
  return kept;
}

static int
report (int number, const char *fault, const char *sentence)
{
  printf ("%sok %d - %s\n", fault[0] ? "not " : "", number, sentence);
  if (fault[0])
    printf ("# %s\n", fault);
  return fault[0] != '\0';
}

int
main (int argc, char **argv)
{
  Run run = { .kept = argc > 1 ? read_corpus (argv[1]) : NULL,
              .seconds = argc > 2 ? g_ascii_strtod (argv[2], NULL) : 1,
              .seed = argc > 3 ? (guint32)g_ascii_strtoull (argv[3], NULL, 10) : 1 };
  if (!run.kept || run.kept->len == 0)
    {
      printf ("Bail out! a folder with inputs was expected\n");
      return 1;
    }
  run.now = mmap (NULL, sizeof (Now), PROT_READ | PROT_WRITE, MAP_SHARED | MAP_ANONYMOUS, -1, 0);
  printf ("1..2\n");
  g_autofree char *kept = part (&run, FALSE);
  g_autofree char *name = g_path_get_basename (argv[1]);
  g_autofree char *first = g_strdup_printf ("all %u inputs of %s end as they should", run.now->tried, name);
  int failed = report (1, kept, first);
  g_autofree char *made = part (&run, TRUE);
  failed += report (2, made, "inputs made of them by chance end as they should");
  printf ("# %u inputs, seed %u\n", run.now->tried, run.seed);
  g_ptr_array_unref (run.kept);
  return failed > 0;
}
