/* How long following the hanging panels of a design takes: bench-swing FILE [TURNS/MIN]. */
#include <glib.h>
#include <stdlib.h>

#include "core/loads.h"
#include "doc/document.h"
#include "swing/swing.h"

#define RUNS 20

int
main (int argc, char **argv)
{
  g_autoptr (GError) error = NULL;
  if (argc < 2)
    g_error ("usage: bench-swing FILE [TURNS/MIN]");
  g_autofree char *text = NULL;
  FwDocument *doc = g_file_get_contents (argv[1], &text, NULL, &error)
                        ? fw_document_new_from_text (text, -1, argv[1], &error)
                        : NULL;
  if (doc == NULL)
    g_error ("%s", error->message);
  FwMechanism *mech = NULL;
  if (fw_mechanism_build (fw_document_design (doc), &mech, NULL) != FW_OK)
    g_error ("cannot be built");
  FwSwings *s = fw_swing_new (mech, 360);
  double speed = argc > 2 ? g_ascii_strtod (argv[2], NULL) * 2 * G_PI / 60 : fw_crank_speed (mech->design);
  double best = G_MAXDOUBLE;
  for (int i = 0; i < RUNS; i++)
    {
      gint64 start = g_get_monotonic_time ();
      if (fw_swing_solve (s, speed, NULL, NULL) != FW_SWING_OK)
        g_error ("out of memory");
      best = MIN (best, (double)(g_get_monotonic_time () - start) / 1000);
    }
  g_print ("%.2f ms at best of %d runs; %ld looks at the equations of motion\n", best, RUNS, s->looks);
  for (int i = 0; i < mech->n_members; i++)
    if (s->members[i].fate != FW_FATE_DRIVEN)
      g_print ("%s: fate %d after %d turns, period %d\n", mech->members[i].name, s->members[i].fate, s->members[i].turns,
               s->members[i].period);
  fw_swing_free (s);
  fw_mechanism_free (mech);
  fw_document_free (doc);
  return 0;
}
