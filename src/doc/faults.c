/* Why a design cannot be built as a mechanism, in a sentence. */
#include "doc/words.h"

#include <glib/gi18n.h>

static const char *
part_name (const FwDesign *design, const FwFault *fault)
{
  switch (fault->kind)
    {
    case 't':
      return design->crank.throws[fault->index].name;
    case 'p':
      return design->panels[fault->index].name;
    case 'r':
      return design->rods[fault->index].name;
    case 'e':
      return design->springs[fault->index].name;
    case 'w':
      return design->crank.weights[fault->index].name;
    case 'c':
      return C_("object", "the crank");
    case 's':
      return C_("object", "the base");
    default:
      return C_("object", "the body");
    }
}

char *
fw_words_fault (const FwDesign *design, FwStatus status, const FwFault *fault)
{
  const char *part = part_name (design, fault);

  switch (status)
    {
    case FW_NO_MEMORY:
      return g_strdup (_("there is not enough memory"));
    case FW_BAD_NUMBER:
      return fault->what
                 /* Translators: a key of the file such as radius, and the name of a part. */
                 ? g_strdup_printf (_("a number that can be built was expected for the %s of %s"),
                                    fault->what, part)
                 : g_strdup_printf (_("numbers that can be built were expected for %s"), part);
    case FW_BAD_REFERENCE:
      return g_strdup_printf (
          _("a part that is there, on the same side, was expected for %s to refer to"), part);
    case FW_RING:
      return g_strdup_printf (
          _("rods that start from something already placed were expected, but %s is "
             "one of a ring of rods that drive each other"),
          part);
    case FW_TWO_RODS:
      return g_strdup_printf (_("one rod a panel was expected, but %s is a second one"), part);
    case FW_ON_HANGING:
      return g_strdup_printf (_("a panel that a rod drives was expected for %s to hold: panels without a rod hang by "
                                "their weight alone"),
                              part);
    case FW_OK:
    default:
      return g_strdup (_("the design can be built"));
    }
}
