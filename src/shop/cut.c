#include "shop/cut.h"

#include <math.h>

#include "shop/cutinner.h"

static char **
sentences (GPtrArray *list)
{
  g_ptr_array_add (list, NULL);
  return (char **)g_ptr_array_free (list, FALSE);
}

static void
weigh (FwCutList *list)
{
  list->all_weighed = TRUE;
  for (int i = 0; i < list->n_pieces; i++)
    {
      const FwCutPiece *p = &list->pieces[i];
      list->all_weighed = list->all_weighed && !isnan (p->mass_g);
      list->mass_g += isnan (p->mass_g) ? 0 : p->mass_g * p->count;
    }
}

static void
add_up_cost (FwCutList *list)
{
  gboolean any = FALSE;
  list->all_priced = TRUE;
  for (int i = 0; i < list->n_uses; i++)
    {
      gboolean priced = !isnan (list->uses[i].cost);
      list->all_priced = list->all_priced && priced;
      any = any || priced;
      list->cost += priced ? list->uses[i].cost : 0;
    }
  for (int i = 0; i < list->n_pieces; i++)
    list->all_priced = list->all_priced && list->pieces[i].stock >= 0;
  if (!any)
    list->cost = NAN;
}

FwCutList *
fw_cut_list_new (const FwMechanism *mechanism, FwLengths lengths)
{
  FwCutList *list = g_new0 (FwCutList, 1);
  list->build = fw_build_new (mechanism);
  list->made = fw_made_list_new (mechanism, list->build);
  FwCutting c = {
    .mech = mechanism,
    .lengths = lengths,
    .list = list,
    .pieces = g_array_new (FALSE, TRUE, sizeof (FwCutPiece)),
    .needs = g_array_new (FALSE, TRUE, sizeof (FwCutNeed)),
    .fittings = g_array_new (FALSE, TRUE, sizeof (FwCutFitting)),
    .problems = g_ptr_array_new (),
    .notes = g_ptr_array_new (),
    .settings = g_ptr_array_new (),
  };
  fw_cutting_add_parts (&c);
  fw_cutting_lay (&c);
  fw_cutting_say (&c);
  list->n_pieces = (int)c.pieces->len;
  list->pieces = (FwCutPiece *)(gpointer)g_array_free (c.pieces, FALSE);
  list->n_fittings = (int)c.fittings->len;
  list->fittings = (FwCutFitting *)(gpointer)g_array_free (c.fittings, FALSE);
  list->problems = sentences (c.problems);
  list->notes = sentences (c.notes);
  list->settings = sentences (c.settings);
  list->assembly = fw_build_assembly (list->build, mechanism);
  g_array_free (c.needs, TRUE);
  weigh (list);
  add_up_cost (list);
  return list;
}

void
fw_cut_list_free (FwCutList *list)
{
  if (list == NULL)
    return;
  for (int i = 0; i < list->n_pieces; i++)
    {
      g_free (list->pieces[i].part);
      g_free (list->pieces[i].what);
      g_free (list->pieces[i].note);
    }
  for (int i = 0; i < list->n_fittings; i++)
    {
      g_free (list->fittings[i].what);
      g_free (list->fittings[i].size);
    }
  for (int i = 0; i < list->n_layouts; i++)
    g_free (list->layouts[i].places);
  g_free (list->pieces);
  g_free (list->fittings);
  g_free (list->layouts);
  g_free (list->uses);
  g_strfreev (list->problems);
  g_strfreev (list->notes);
  g_strfreev (list->settings);
  g_strfreev (list->assembly);
  fw_made_list_free (list->made);
  fw_build_free (list->build);
  g_free (list);
}
