/* Words of materials as people read them. The file keeps its own word, which is the English one. */
#include "doc/materials.h"

#include <string.h>

#include <glib/gi18n.h>

/* Those of data/materials.json, and those of the demos and of what the program adds itself. */
static const char *const words[] = {
  NC_ ("material", "copper"),       NC_ ("material", "copper tube"),   NC_ ("material", "brass"),
  NC_ ("material", "brass rod"),    NC_ ("material", "steel"),         NC_ ("material", "steel wire"),
  NC_ ("material", "music wire"),   NC_ ("material", "aluminium"),     NC_ ("material", "birch"),
  NC_ ("material", "birch ply"),    NC_ ("material", "ply"),           NC_ ("material", "balsa"),
  NC_ ("material", "bamboo"),       NC_ ("material", "card"),          NC_ ("material", "kraft card"),
  NC_ ("material", "felt on card"), NC_ ("material", "paper"),         NC_ ("material", "film"),
  NC_ ("material", "foamboard"),    NC_ ("material", "corrugated b"),  NC_ ("material", "corrugated c"),
  NC_ ("material", "corrugated e"), NC_ ("material", "corrugated bc"),
};

const char *
fw_material_words (const char *material)
{
  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    if (strcmp (words[i], material) == 0)
      return g_dpgettext2 (NULL, "material", words[i]);
  return material;
}
