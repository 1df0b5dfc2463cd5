/* Pieces and the order of assembly in words. */
#include <math.h>

#include <glib/gi18n.h>

#include "shop/build.h"

static const char *
throw_name (const FwBuild *build, int index)
{
  return build->design->crank.throws[index].name;
}

static char *
axis_name (const FwBuild *build, const FwBuiltPiece *p)
{
  if (p->a < 0 && p->b < 0)
    return g_strdup (_("Axis"));
  if (p->a == FW_BUILT_HANDLE_END)
    return g_strdup (_("Axis at the handle end"));
  if (p->b == FW_BUILT_FAR_END)
    return g_strdup (_("Axis at the far end"));
  if (p->a == p->b)
    return g_strdup_printf (_("Axis between the two throws %s"), throw_name (build, p->a));
  return g_strdup_printf (_("Axis between %s and %s"), throw_name (build, MIN (p->a, p->b)), throw_name (build, MAX (p->a, p->b)));
}

char *
fw_build_piece_name (const FwBuild *build, const FwBuiltPiece *p)
{
  switch (p->kind)
    {
    case FW_BUILT_GRIP:
      return g_strdup (_("Grip of the handle"));
    case FW_BUILT_ARM:
      return g_strdup (_("Arm of the handle"));
    case FW_BUILT_AXIS:
      return axis_name (build, p);
    case FW_BUILT_PIN:
      return p->a == p->b ? g_strdup_printf (_("Pin of %s"), throw_name (build, p->a))
                          : g_strdup_printf (_("Pin of %s and %s in one"), throw_name (build, p->a), throw_name (build, p->b));
    case FW_BUILT_WEB:
      if (p->a >= 0 && p->b >= 0)
        return g_strdup_printf (_("Web from %s to %s"), throw_name (build, MIN (p->a, p->b)), throw_name (build, MAX (p->a, p->b)));
      return g_strdup_printf (_("Web of %s"), throw_name (build, MAX (p->a, p->b)));
    case FW_BUILT_WIRE:
    default:
      return g_strdup (_("Crank, bent in one"));
    }
}

/* ---- Order of assembly ---- */

static char *
ring_name (const FwMechanism *mech, const FwBuiltRing *ring)
{
  if (ring->part.kind == FW_PART_BASE)
    return g_strdup_printf (_("bearing %d"), ring->bearing + 1);
  if (ring->part.kind == FW_PART_BODY)
    return g_strdup (_("the foot of the post"));
  return g_strdup (mech->links[ring->part.index].name);
}

static void
say_rings (GPtrArray *steps, const FwBuild *build, const FwMechanism *mech, int piece, gboolean closed)
{
  GString *names = g_string_new (NULL);
  for (int i = 0; i < build->n_rings; i++)
    {
      const FwBuiltRing *ring = &build->rings[i];
      if (ring->closed != closed || !ring->gets_on || (piece >= 0 && ring->piece != piece))
        continue;
      g_autofree char *name = ring_name (mech, ring);
      g_string_append_printf (names, "%s%s", names->len > 0 ? ", " : "", name);
    }
  if (names->len > 0 && closed && piece < 0)
    g_ptr_array_add (steps, g_strdup_printf (_("Thread on, in this order and from the nearer end: %s."), names->str));
  else if (names->len > 0 && closed)
    g_ptr_array_add (steps, g_strdup_printf (_("Before its second end is joined, thread onto it: %s."), names->str));
  else if (names->len > 0)
    g_ptr_array_add (steps, g_strdup_printf (_("Open and close round the crank: %s."), names->str));
  g_string_free (names, TRUE);
}

/* Which way a web points from the axis, or from its first throw to the next; 0 to 360. */
static double
points_to (const FwBuiltPiece *p)
{
  gboolean inwards = p->kind == FW_BUILT_ARM || p->b == FW_BUILT_ON_AXIS;
  double turned = fmod (p->phase_deg + (inwards ? 180 : 0) + 720, 360);
  return turned > 359.95 ? 0 : turned;
}

static void
say_pieces (GPtrArray *steps, const FwBuild *build, const FwMechanism *mech)
{
  for (int i = 0; i < build->n_pieces; i++)
    {
      g_autofree char *name = fw_build_piece_name (build, &build->pieces[i]);
      gboolean web = build->pieces[i].kind == FW_BUILT_WEB || build->pieces[i].kind == FW_BUILT_ARM;
      g_autofree char *turned = fw_units_format (points_to (&build->pieces[i]), FW_UNIT_DEG, FW_LENGTHS_MM, -1);
      /* Translators: a piece of the crank such as "Web of in", and an angle. */
      g_ptr_array_add (steps, web ? g_strdup_printf (_("%s, pointing to %s from up."), name, turned)
                                  : g_strdup_printf ("%s.", name));
      say_rings (steps, build, mech, i, TRUE);
    }
}

static void
say_crank (GPtrArray *steps, const FwBuild *build, const FwMechanism *mech)
{
  if (build->make.make == FW_MAKE_BENT)
    {
      g_ptr_array_add (steps, g_strdup (_("Try one bend on scrap: what springs back is bent so much further.")));
      g_ptr_array_add (steps, g_strdup (_("Mark the bends on the blank and bend them one after the other from the handle end, "
                                          "turning the blank about itself before each as listed.")));
      say_rings (steps, build, mech, -1, TRUE);
      say_rings (steps, build, mech, -1, FALSE);
      return;
    }
  g_ptr_array_add (steps, g_strdup (build->make.make == FW_MAKE_ELBOWS
                                        ? _("Put the crank together dry, from the handle on, set every throw by the phase gauge, mark across "
                                            "each joint, then solder or glue joint by joint. Solder away from paper and plastic, with air to "
                                            "breathe and water at hand.")
                                        : _("Bolt the crank together from the handle on, set every throw by the phase gauge and tighten; pin or "
                                            "solder each web, as a nut alone lets it turn.")));
  say_pieces (steps, build, mech);
  say_rings (steps, build, mech, -1, FALSE);
}

static void
say_body (GPtrArray *steps, const FwMechanism *mech)
{
  const FwDesign *d = mech->design;
  switch (d->body.ride)
    {
    case FW_RIDE_FIXED:
      g_ptr_array_add (steps, g_strdup (_("Fix the body in its place.")));
      break;
    case FW_RIDE_RAIL:
      g_ptr_array_add (steps, g_strdup (_("Slide the body onto its rail and join its rod.")));
      break;
    case FW_RIDE_SLEEVE:
      g_ptr_array_add (steps, g_strdup (_("Pass the free end of the post through its guide, then fix the body on it.")));
      break;
    case FW_RIDE_ROCKER:
      g_ptr_array_add (steps, g_strdup (_("Join the link to the base and to the post, then fix the body on the post.")));
      break;
    }
}

/* Panels from the body outwards, each followed by its rod. */
static void
say_panels (GPtrArray *steps, const FwMechanism *mech)
{
  for (int i = 0; i < mech->n_members; i++)
    {
      const FwMember *m = &mech->members[mech->order[i]];
      /* Translators: a panel, and the panel that it hangs on. */
      g_ptr_array_add (steps, g_strdup_printf (m->parent < 0 ? _("Hinge %s to the body.") : _("Hinge %s to %s."), m->name,
                                               m->parent < 0 ? "" : mech->members[m->parent].name));
      if (m->rod >= 0)
        /* Translators: a rod and a panel. */
        g_ptr_array_add (steps, g_strdup_printf (_("Join %s to %s."), mech->links[m->rod].name, m->name));
    }
}

char **
fw_build_assembly (const FwBuild *build, const FwMechanism *mechanism)
{
  GPtrArray *steps = g_ptr_array_new ();
  if (build->n_throws > 0)
    {
      say_crank (steps, build, mechanism);
      g_ptr_array_add (steps, g_strdup (_("Set the bearings on the base and turn the crank by hand: it must run free all round.")));
    }
  say_body (steps, mechanism);
  say_panels (steps, mechanism);
  g_ptr_array_add (steps, g_strdup (_("Turn once round slowly by hand, fingers clear of hinges and rods, before anything drives it.")));
  g_ptr_array_add (steps, NULL);
  return (char **)g_ptr_array_free (steps, FALSE);
}

/* ---- What mends a crank ---- */

char **
fw_shop_words_other_makes (const FwDesign *design, const FwTrouble *trouble)
{
  FwMake makes[3];
  int n = fw_shop_other_makes (design, trouble, makes);
  GPtrArray *list = g_ptr_array_new ();
  for (int i = 0; i < n; i++)
    g_ptr_array_add (list, g_strdup (makes[i] == FW_MAKE_ELBOWS   ? _("Made of tube and elbows, this part of it can be made")
                                     : makes[i] == FW_MAKE_BOLTED ? _("Bolted from flat webs, this part of it can be made")
                                                                  : _("Bent in one, this part of it can be made")));
  g_ptr_array_add (list, NULL);
  return (char **)g_ptr_array_free (list, FALSE);
}

char *
fw_shop_words_swing (const FwMechanism *mechanism, const FwRemedy *remedy)
{
  g_autofree FwSwingChange *change = fw_shop_swing_change (mechanism, remedy->param, remedy->to);
  GPtrArray *list = g_ptr_array_new_with_free_func (g_free);
  for (int i = 0; change != NULL && i < mechanism->n_members; i++)
    {
      g_autofree char *before = fw_units_format (change[i].before_deg, FW_UNIT_DEG, FW_LENGTHS_MM, -1);
      g_autofree char *after = fw_units_format (change[i].after_deg, FW_UNIT_DEG, FW_LENGTHS_MM, -1);
      if (mechanism->members[i].left || !(fabs (change[i].after_deg - change[i].before_deg) >= 0.1))
        continue;
      /* Translators: a panel and two angles; stands in "Then %s.", alone or in a list with commas. */
      g_ptr_array_add (list, g_strdup_printf (_("%s swings through %s instead of %s"), mechanism->members[i].name, after, before));
    }
  g_ptr_array_add (list, NULL);
  g_autofree char *all = g_strjoinv (", ", (char **)list->pdata);
  /* Translators: %s is one or more of "PANEL swings through 40° instead of 42°", with commas. */
  char *text = list->len > 1 ? g_strdup_printf (_("Then %s."), all) : NULL;
  g_ptr_array_unref (list);
  return text;
}

char *
fw_shop_words_nearest (const FwMechanism *mechanism, const FwTrouble *trouble, FwLengths lengths, double *radius_mm)
{
  if (trouble->kind != FW_THROW_TOO_SHORT || trouble->has_other || trouble->part.index == 0)
    return NULL;
  FwParam param = { FW_PARAM_THROW_RADIUS, trouble->part.index - 1, 0 };
  *radius_mm = ceil (2 * trouble->limit - 1e-9) / 2;
  FwRemedy change = { param, trouble->value, *radius_mm };
  g_autofree char *radius = fw_units_format (*radius_mm, FW_UNIT_MM, lengths, *radius_mm == floor (*radius_mm) ? 0 : 1);
  FwTrial trial = fw_try_value (mechanism->design, param, *radius_mm);
  if (trial < FW_TRIAL_TROUBLED)
    return g_strdup_printf (_("The shortest throw that can be made this way is %s, and with it the design does not go round."), radius);
  g_autofree char *swing = fw_shop_words_swing (mechanism, &change);
  return g_strdup_printf (_("The shortest throw that can be made this way is %s. %s"), radius, swing == NULL ? "" : swing);
}
