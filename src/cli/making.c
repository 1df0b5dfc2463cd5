#include "cli/making.h"

#include <glib/gi18n.h>

static gboolean
of_making (const FwTrouble *trouble)
{
  return trouble->kind >= FW_THROW_TOO_SHORT && trouble->kind <= FW_NO_WAY_IN;
}

void
fw_cli_making_json (cJSON *item, const FwMechanism *mech, const FwTrouble *trouble)
{
  static const char *const names[] = { "elbows", "bolted", "bent" };
  FwMake makes[3];
  if (!of_making (trouble))
    return;
  int n = fw_shop_other_makes (mech->design, trouble, makes);
  cJSON *array = cJSON_AddArrayToObject (item, "makes");
  for (int i = 0; i < n; i++)
    cJSON_AddItemToArray (array, cJSON_CreateString (names[makes[i]]));
  double radius;
  g_autofree char *nearest = fw_shop_words_nearest (mech, trouble, FW_LENGTHS_MM, &radius);
  if (nearest == NULL)
    return;
  cJSON *object = cJSON_AddObjectToObject (item, "nearest");
  cJSON_AddNumberToObject (object, "radius_mm", radius);
  cJSON_AddStringToObject (object, "message", nearest);
}

void
fw_cli_making_text (GString *out, const FwMechanism *mech, const FwTrouble *trouble, FwLengths lengths)
{
  if (!of_making (trouble))
    return;
  g_auto (GStrv) makes = fw_shop_words_other_makes (mech->design, trouble);
  for (int i = 0; makes[i] != NULL; i++)
    g_string_append_printf (out, _ ("    mends it: %s\n"), makes[i]);
  double radius;
  g_autofree char *nearest = fw_shop_words_nearest (mech, trouble, lengths, &radius);
  if (nearest != NULL)
    g_string_append_printf (out, "    %s\n", nearest);
}

char *
fw_cli_making_swing (const FwMechanism *mech, const FwTrouble *trouble, const FwRemedy *remedy)
{
  return of_making (trouble) ? fw_shop_words_swing (mech, remedy) : NULL;
}
