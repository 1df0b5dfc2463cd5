/* Whatever loads goes through all there is: the first byte says which verb, the rest is the design file. */
#include "fuzz.h"

#include <string.h>

#include "doc/document.h"

/* Every verb at a size that is soon done. */
static const char *const calls[][12] = {
  { "turn", "d.flap", "--steps", "12" },
  { "turn", "d.flap", "--steps", "7", "--format", "json" },
  { "check", "d.flap" },
  { "check", "d.flap", "--format", "json", "--reach" },
  { "loads", "d.flap" },
  { "loads", "d.flap", "--format", "json", "--speed", "3" },
  { "strip", "d.flap", "-o", "o.png", "--frames", "2", "--frame-width", "80", "--forces", "--weights" },
  { "cut", "d.flap" },
  { "cut", "d.flap", "--format", "json", "--lengths", "inch" },
  { "templates", "d.flap", "-o", "o.pdf" },
  { "templates", "d.flap", "-o", "o.svg" },
  { "kit", "d.flap", "-o", "o.pdf" },
  { "parts", "d.flap", "-o", "o" },
  { "animate", "d.flap", "-o", "o.gif", "--frames", "8", "--width", "64" },
  { "flipbook", "d.flap", "-o", "o.pdf", "--frames", "12" },
  { "log", "d.flap" },
  { "log", "d.flap", "-o", "o.md" },
  { "versions", "d.flap" },
  { "scale", "d.flap", "--by", "1.5" },
  { "tolerance", "d.flap", "--runs", "4", "--threads", "1" },
  { "thumbnail", "d.flap", "-o", "o.png", "--size", "64" },
};

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  fuzz_begin ();
  if (size < 2)
    return 0;
  const char *const *call = calls[data[0] % G_N_ELEMENTS (calls)];
  fuzz_write ("d.flap", data + 1, size - 1);
  char *argv[14] = { (char *)"flapwright-cli" };
  int argc = 1;
  for (; call[argc - 1]; argc++)
    argv[argc] = (char *)call[argc - 1];
  fuzz_call (argc, argv);
  fuzz_clear_folder ();
  return 0;
}
