/* Loaded before a GTK program: ends it right after its first frame, and says how long that took from
 * exec and how much memory the program then held. Used by bench.py. */
#include <gtk/gtk.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>
#include <unistd.h>

/* Seconds since this process was started, by the kernel's own clock. */
static double
age (void)
{
  unsigned long long start = 0;
  FILE *stat = fopen ("/proc/self/stat", "r");
  if (stat == NULL || fscanf (stat, "%*d (%*[^)]) %*c %*d %*d %*d %*d %*d %*u %*u %*u %*u %*u %*u %*u %*d %*d %*d %*d %*d %*d %llu", &start) != 1)
    exit (2);
  fclose (stat);
  struct timespec now;
  clock_gettime (CLOCK_BOOTTIME, &now);
  return (double)now.tv_sec + (double)now.tv_nsec * 1e-9 - (double)start / (double)sysconf (_SC_CLK_TCK);
}

static double
resident_MB (void)
{
  long pages = 0;
  FILE *statm = fopen ("/proc/self/statm", "r");
  if (statm == NULL || fscanf (statm, "%*d %ld", &pages) != 1)
    exit (2);
  fclose (statm);
  return (double)pages * (double)sysconf (_SC_PAGESIZE) / 1e6;
}

static gboolean
painted (GSignalInvocationHint *hint, guint n, const GValue *values, gpointer unused)
{
  struct timespec cpu;
  clock_gettime (CLOCK_PROCESS_CPUTIME_ID, &cpu);
  printf ("first-frame %.3f cpu %.3f resident %.1f\n", age (), (double)cpu.tv_sec + (double)cpu.tv_nsec * 1e-9,
          resident_MB ());
  fflush (stdout);
  _exit (0);
}

static void __attribute__ ((constructor))
watch (void)
{
  unsetenv ("LD_PRELOAD"); /* for what the program starts */
  g_type_class_ref (GDK_TYPE_FRAME_CLOCK);
  g_signal_add_emission_hook (g_signal_lookup ("after-paint", GDK_TYPE_FRAME_CLOCK), 0, painted, NULL, NULL);
}
