#include "doc/loadwords.h"

#include <math.h>

#include <glib/gi18n.h>

/* The one coordinate that is not nothing says where on the body. */
static const char *
place_on_body (FwVec3 at)
{
  if (at.y != 0)
    return at.y > 0 ? _ ("A counterweight of %s on the body, %s forward of its datum")
                    : _ ("A counterweight of %s on the body, %s behind its datum");
  if (at.z != 0)
    return at.z > 0 ? _ ("A counterweight of %s on the body, %s above its datum")
                    : _ ("A counterweight of %s on the body, %s below its datum");
  return at.x > 0 ? _ ("A counterweight of %s on the body, %s to the right of its datum")
                  : _ ("A counterweight of %s on the body, %s to the left of its datum");
}

char *
fw_words_counterweight (const FwDesign *design, const FwCounterweight *w, FwLengths lengths)
{
  g_autofree char *mass = fw_units_format (w->mass_g, FW_UNIT_G, lengths, -1);
  if (w->panel == FW_ON_BODY)
    {
      double way = fabs (w->at_mm.x) + fabs (w->at_mm.y) + fabs (w->at_mm.z);
      g_autofree char *far = fw_units_format (way, FW_UNIT_MM, lengths, 0);
      return g_strdup_printf (place_on_body (w->at_mm), mass, far);
    }
  g_autofree char *out = fw_units_format (fabs (w->at_mm.x), FW_UNIT_MM, lengths, 0);
  return g_strdup_printf (w->at_mm.x < 0
                              ? _ ("A counterweight of %s on %s, %s behind its hinge")
                              : _ ("A counterweight of %s on %s, %s outward from its hinge"),
                          mass, design->panels[w->panel].name, out);
}

/* Where an end is held; of panels their name. */
static const char *
end_words (const FwDesign *design, const FwAnchor *end)
{
  return end->kind == FW_FROM_PANEL  ? design->panels[end->index].name
         : end->kind == FW_FROM_BODY ? C_ ("end of a spring", "the body")
                                     : C_ ("end of a spring", "the base");
}

char *
fw_words_spring_fit (const FwDesign *design, const FwSpringFit *fit, FwLengths lengths)
{
  const FwSpringPart *s = &fit->spring;
  g_autofree char *rate = fw_units_format (s->rate_Npmm, FW_UNIT_NPMM, lengths, s->rate_Npmm < 0.01 ? 4 : 3);
  g_autofree char *free_length = fw_units_format (s->free_mm, FW_UNIT_MM, lengths, 0);
  double most = fmax (fabs (fit->least_N), fabs (fit->most_N));
  g_autofree char *force = fw_units_format (most, FW_UNIT_N, lengths, most < 1 ? 2 : 1);
  const char *from = end_words (design, &s->from), *to = end_words (design, &s->to);
  return g_strdup_printf (s->cord ? _ ("An elastic cord from %s to %s, %s, %s long when slack: %s at most")
                                  : _ ("A spring from %s to %s, %s, %s long at rest: %s at most"),
                          from, to, rate, free_length, force);
}

char *
fw_words_spring (const FwMechanism *mech, const FwSpring *s)
{
  g_autofree char *force = fw_units_format (s->force_N, FW_UNIT_N, FW_LENGTHS_MM, -1);
  if (s->part.kind != FW_PART_LINK)
    return g_strdup_printf (
        _ ("A spring that presses the post to one side of what guides it with %s keeps it there "
           "all the turn"),
        force);
  const char *name = mech->links[s->part.index].name;
  return g_strdup_printf (
      s->pulls
          ? _ ("An elastic cord beside %s that draws its ends together with %s keeps it pushed all "
               "the turn")
          : _ ("A spring beside %s that spreads its ends with %s keeps it pulled all the turn"),
      name, force);
}
