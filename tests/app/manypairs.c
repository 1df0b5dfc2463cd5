#include "manypairs.h"

FwDocument *
many_pairs (int n)
{
  g_autoptr (GString) throws = g_string_new (NULL);
  g_autoptr (GString) panels = g_string_new (NULL);
  g_autoptr (GString) rods = g_string_new (NULL);
  for (int i = 0; i < n; i++)
    {
      const char *comma = i > 0 ? "," : "";
      g_string_append_printf (
          throws,
          ",{\"name\":\"t%d\",\"radius\":30,\"phase\":180,\"station\":%d,\"side\":\"both\"}", i,
          150 + 20 * i);
      g_string_append_printf (
          panels,
          "%s{\"name\":\"p%d\",\"side\":\"both\",\"on\":\"body\",\"hinge\":[%d,0,0],\"span\":210,"
          "\"stops\":[-60,60],\"mass\":160,\"centre\":[105,-10,0],\"inertia\":[3e5,6e5,9e5,0]}",
          comma, i, 45 + 20 * i);
      g_string_append_printf (
          rods,
          "%s{\"name\":\"r%d\",\"side\":\"both\",\"from\":{\"throw\":\"t%d\"},"
          "\"to\":{\"panel\":\"p%d\",\"at\":[140,0,-12]},\"length\":412,\"near\":0,\"mass\":30}",
          comma, i, i, i);
    }
  g_autofree char *text
      = g_strdup_printf ("{\"format\":\"flapwright "
                         "design\",\"version\":1,\"title\":\"Many\",\"crank\":{\"runs\":\"across\","
                         "\"turns_per_minute\":40,\"throws\":[{\"name\":\"mid\",\"radius\":40,"
                         "\"phase\":0,\"station\":0}%s]},"
                         "\"body\":{\"ride\":\"sleeve\",\"throw\":\"mid\",\"post\":420,\"guide\":["
                         "0,180],\"mass\":900,\"centre\":[0,35,60],"
                         "\"gyration\":140},\"panels\":[%s],\"rods\":[%s]}",
                         throws->str, panels->str, rods->str);
  g_autoptr (GError) error = NULL;
  FwDocument *doc = fw_document_new_from_text (text, -1, "many", &error);
  g_assert_no_error (error);
  return doc;
}
