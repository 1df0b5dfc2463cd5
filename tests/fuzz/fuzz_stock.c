/* The maker's stock and materials, and how the crank is made, in an otherwise sound design: the first byte
 * says what is asked of it, the rest is the JSON of these sections, up to an empty line each. */
#include "fuzz.h"

#include <string.h>

#include "doc/document.h"

static const char *const calls[][8] = {
  { "cut", "d.flap" },
  { "cut", "d.flap", "--format", "json" },
  { "cut", "d.flap", "--format", "csv" },
  { "check", "d.flap" },
  { "loads", "d.flap" },
  { "templates", "d.flap", "-o", "o.svg" },
  { "parts", "d.flap", "-o", "o" },
};

/* The sound design with `sections` put before its end. */
static void
write_design (const char *sections, gsize size)
{
  g_autoptr (GString) text = g_string_new (fuzz_design_text);
  g_string_truncate (text, (gsize)(strrchr (text->str, '}') - text->str));
  g_string_append (text, ",\n");
  g_string_append_len (text, sections, (gssize)size);
  g_string_append (text, "}\n");
  fuzz_write ("d.flap", text->str, text->len);
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  fuzz_begin ();
  if (size < 2)
    return 0;
  const char *const *call = calls[data[0] % G_N_ELEMENTS (calls)];
  write_design ((const char *)data + 1, size - 1);
  char *argv[10] = { (char *)"flapwright-cli" };
  int argc = 1;
  for (; call[argc - 1]; argc++)
    argv[argc] = (char *)call[argc - 1];
  fuzz_call (argc, argv);
  fuzz_clear_folder ();
  return 0;
}
