/* The kit's words: cover, before you start, steps, settings, how to check the motion. */
#include <glib/gi18n.h>
#include <string.h>

#include "shop/kitlayout.h"

/* ---- Letters in sentences ---- */

static gboolean
of_step (const FwMade *made, FwKitStep step)
{
  switch (made->kind)
    {
    case FW_MADE_PLATE:
    case FW_MADE_UPRIGHT:
    case FW_MADE_COLUMN:
    case FW_MADE_BEAM:
    case FW_MADE_ANCHOR:
    case FW_MADE_BUSHING:
      return step == FW_STEP_BASE;
    case FW_MADE_CRANK:
    case FW_MADE_CLAMP:
      return step == FW_STEP_CRANK;
    case FW_MADE_POST:
    case FW_MADE_LINK:
    case FW_MADE_GUIDE:
      return step == FW_STEP_POST;
    case FW_MADE_PANEL:
      return step == FW_STEP_PANELS;
    case FW_MADE_ROD:
      return step == FW_STEP_RODS;
    case FW_MADE_WEDGE:
      return step == FW_STEP_STOPS;
    }
  return FALSE;
}

/* "A 2, B 2, C 1": what the step takes, in order of letters; NULL: nothing with a letter. */
static char *
takes (const FwKit *kit, FwKitStep step)
{
  g_autoptr (GString) out = g_string_new (NULL);
  for (int i = 0; i < kit->cut->made->n; i++)
    {
      const FwMade *made = &kit->cut->made->items[i];
      if (!of_step (made, step))
        continue;
      if (out->len > 0)
        g_string_append (out, ", ");
      /* A letter, and how many of it: "B × 2". */
      g_string_append_printf (out, C_ ("letter and count", "%s\u00a0×\u00a0%d"), made->letter, made->count);
    }
  return out->len > 0 ? g_string_free (g_steal_pointer (&out), FALSE) : NULL;
}

/* ---- Cover ---- */

static void
cover (FwKitFlow *flow)
{
  const FwKit *kit = flow->kit;
  int cut = 0, printed = 0;
  for (int i = 0; i < kit->cut->n_pieces; i++)
    cut += kit->cut->pieces[i].count;
  for (int i = 0; i < kit->solids->n_parts; i++)
    printed += kit->solids->parts[i].mesh != NULL ? kit->solids->parts[i].count : 0;
  fw_kit_flow_page (flow, NULL);
  flow->y += 26 * flow->unit;
  flow->y += fw_kit_text_at (flow, *kit->title != '\0' ? kit->title : _ ("Untitled"), flow->left, flow->y,
                             fw_kit_flow_width (flow), 27, TRUE, FALSE);
  flow->y += 4 * flow->unit;
  flow->y += fw_kit_text_at (flow, _ ("Kit sheet: what to make, and how it goes together"), flow->left, flow->y,
                             fw_kit_flow_width (flow), 10.5, FALSE, TRUE);
  double tall = flow->foot - flow->y - 50 * flow->unit;
  fw_kit_put (flow, FW_KIT_VIEW, flow->left, flow->y + 10 * flow->unit, fw_kit_flow_width (flow), tall)->index
      = FW_KIT_N_STEPS;
  double foot = flow->foot - 16 * flow->unit;
  g_autofree char *count
      = g_strdup_printf (ngettext ("%d part to cut, %d to print", "%d parts to cut, %d to print",
                                   (gulong)cut),
                         cut, printed);
  fw_kit_put (flow, FW_KIT_RULE, flow->left, foot - 8 * flow->unit, fw_kit_flow_width (flow), 0);
  fw_kit_text_at (flow, count, flow->left, foot, fw_kit_flow_width (flow), 9, FALSE, FALSE);
}

/* ---- Before you start ---- */

static void
tell (GPtrArray *list, const char *text)
{
  g_ptr_array_add (list, g_strdup (text));
}

static char **
tools (const FwKit *kit)
{
  const FwDesign *d = kit->mechanism->design;
  GPtrArray *list = g_ptr_array_new ();
  gboolean sheets = FALSE, boards = FALSE;
  for (int i = 0; i < kit->cut->n_pieces; i++)
    {
      sheets = sheets || kit->cut->pieces[i].made.kind == FW_MADE_PANEL;
      boards = boards || kit->cut->pieces[i].made.kind == FW_MADE_PLATE;
    }
  tell (list, _ ("Eye protection; gloves for sharp edges, not near anything that spins"));
  tell (list, _ ("Steel rule, square, calliper, pencil, the paper templates"));
  if (d->crank.n_throws > 0 || d->n_rods > 0)
    tell (list, _ ("Fine saw or tube cutter, vice, file to take off every burr"));
  tell (list, _ ("Drill with bits for the rods, screws and pins of this list"));
  if (sheets)
    tell (list, _ ("Sharp knife or scissors, cutting mat, blunt point to score folds"));
  if (boards)
    tell (list, _ ("Saw for wood, sandpaper, wood glue, clamps"));
  if (d->crank.n_throws > 0 && kit->cut->build->make.make == FW_MAKE_ELBOWS)
    tell (list, _ ("Torch, solder and flux made for tube, a surface that does not burn, water at hand"));
  if (d->crank.n_throws > 0 && kit->cut->build->make.make == FW_MAKE_BOLTED)
    tell (list, _ ("Two spanners for the crank's nuts, the phase gauge"));
  if (d->crank.n_throws > 0 && kit->cut->build->make.make == FW_MAKE_BENT)
    tell (list, _ ("Pliers or a bending jig of the bend's radius, the phase gauge"));
  if (kit->solids->n_parts > kit->solids->n_problems)
    tell (list, _ ("A printer for the printed parts; print one bushing and one clamp first and try them"));
  g_ptr_array_add (list, NULL);
  return (char **)g_ptr_array_free (list, FALSE);
}

static char **
cautions (const FwKit *kit)
{
  const FwDesign *d = kit->mechanism->design;
  GPtrArray *list = g_ptr_array_new ();
  tell (list, _ ("Fingers, hair and sleeves: rods, webs and hinges close on each other all round the turn. Turn the crank "
                 "by hand, slowly, with nobody's hand inside, before anything else turns it."));
  tell (list, _ ("Sharp and hot: knives, fresh-cut tube, drills, soldering irons and torches cut and burn. Clamp the work, "
                 "wear eye protection, keep burners away from paper and card, and air the room."));
  if (d->base.hung)
    tell (list, _ ("It hangs overhead: its fixing, and what it is fixed to, must hold several times its weight, moving. Let "
                   "someone who is licensed for it judge and do the fixing, and secure it a second time."));
  else
    tell (list, _ ("It can tip: screw or clamp the base down before you turn it, and do not let a child lean on it. What stands "
                   "or hangs above people needs a fixing that someone licensed for it has judged."));
  if (d->drive.motor)
    tell (list, _ ("The motor starts without warning: guard what moves, fit a switch that cuts it off within reach and a fuse, and "
                   "use a low voltage. Work on mains is for a licensed electrician."));
  else
    tell (list, _ ("If a motor is added: guard what moves, fit a switch within reach and a fuse, use a low voltage; work on mains "
                   "is for a licensed electrician."));
  tell (list, _ ("Printed, glued and wooden parts tire. Look at joints and rods before each show, and stop at a new noise."));
  tell (list, _ ("Local codes and licensed practice come before anything on these pages. This is not a toy for small children."));
  g_ptr_array_add (list, NULL);
  return (char **)g_ptr_array_free (list, FALSE);
}

static void
before_you_start (FwKitFlow *flow)
{
  const char *heading = _ ("Before you start");
  g_auto (GStrv) warn = cautions (flow->kit), need = tools (flow->kit);
  fw_kit_flow_page (flow, heading);
  fw_kit_subheading (flow, _ ("Take care"), heading);
  fw_kit_list (flow, warn, FALSE, heading);
  fw_kit_subheading (flow, _ ("Tools"), heading);
  fw_kit_list (flow, need, FALSE, heading);
}

static void
fittings (FwKitFlow *flow)
{
  const FwKit *kit = flow->kit;
  const char *heading = _ ("To buy");
  GPtrArray *list = g_ptr_array_new_with_free_func (g_free);
  for (int i = 0; i < kit->cut->n_fittings; i++)
    {
      const FwCutFitting *f = &kit->cut->fittings[i];
      g_ptr_array_add (list, f->size == NULL || *f->size == '\0'
                                 ? g_strdup_printf ("%d × %s", f->count, f->what)
                                 : g_strdup_printf ("%d × %s, %s", f->count, f->what, f->size));
    }
  g_ptr_array_add (list, NULL);
  if (list->len > 1)
    {
      fw_kit_flow_page (flow, heading);
      fw_kit_paragraph (flow, _ ("Measure a fitting before you buy the rest: no standard fixes its inside."), 8.5, FALSE,
                        heading);
      fw_kit_list (flow, (char **)list->pdata, FALSE, heading);
    }
  g_ptr_array_unref (list);
}

/* ---- Steps ---- */

static const char *
step_name (FwKitStep step)
{
  static const char *const names[FW_KIT_N_STEPS]
      = { N_ ("Base"), N_ ("Crank"), N_ ("Post"), N_ ("Body"), N_ ("Panels"), N_ ("Rods"), N_ ("Stops") };
  return _ (names[step]);
}

static const char *
post_words (const FwDesign *d)
{
  switch (d->body.ride)
    {
    case FW_RIDE_SLEEVE:
      return _ ("Set the post's foot on its throw and pass the post through its guide. Guide and foot must turn freely and "
                "not wobble.");
    case FW_RIDE_RAIL:
      return _ ("Join the rod to its throw and to the slide, and run the slide on its rail. It must fall by its own weight.");
    case FW_RIDE_ROCKER:
      return _ ("Set the post's foot on its throw and hang the post in its link. Both ends of the link must turn freely.");
    case FW_RIDE_FIXED:
      break;
    }
  return _ ("The body stands still here: fix its carrier to the base.");
}

static const char *
step_words (const FwDesign *d, FwKitStep step)
{
  switch (step)
    {
    case FW_STEP_BASE:
      return _ ("Mark the base plate from its template, drill it, and set up the uprights square to it. Put a bushing into "
                "each bearing. Screw the plate to a board or clamp it to the bench.");
    case FW_STEP_CRANK:
      return _ ("Put the crank together in the order of the list that follows, with bearings and rod clamps threaded on in "
                "their turn. Set each throw by the phase gauge before you fix it for good.");
    case FW_STEP_POST:
      return post_words (d);
    case FW_STEP_BODY:
      return _ ("Build the body light, and fix it to the top of what carries it, hinges level and square to the mid-plane.");
    case FW_STEP_PANELS:
      return _ ("Cut the panels, left ones as mirror images, score them, and hinge each to its parent along the marked line. "
                "Every panel must drop by its own weight.");
    case FW_STEP_RODS:
      return _ ("Set each rod to its length between joint centres, join its upper end to the panel, then its lower end. Turn the "
                "crank by hand after every rod.");
    default:
      return _ ("Turn to where each panel is highest and lowest, and check that no stop is touched; then glue or lash the "
                "wedges so that they catch a panel that is let go.");
    }
}

static void
put_step (FwKitFlow *flow, FwKitStep step, int number)
{
  const FwKit *kit = flow->kit;
  const char *heading = _ ("Putting it together");
  double unit = flow->unit, width = fw_kit_flow_width (flow), words = 0.4 * width, gap = 14 * unit;
  double tall = (flow->foot - flow->top - 52 * unit) / 2;
  g_autofree char *figure = g_strdup_printf ("%d", number), *letters = takes (kit, step);
  if (flow->y + tall > flow->foot + 1)
    fw_kit_flow_page (flow, heading);
  double y = flow->y, x = flow->left;
  fw_kit_badge (flow, figure, x, y, 11);
  fw_kit_text_at (flow, step_name (step), x + 28 * unit, y + 3 * unit, 0, 12, TRUE, FALSE);
  y += 30 * unit;
  if (letters != NULL)
    y += fw_kit_text_at (flow, letters, x, y, words, 8.5, TRUE, FALSE) + 5 * unit;
  fw_kit_text_at (flow, step_words (kit->mechanism->design, step), x, y, words, 8.5, FALSE, FALSE);
  fw_kit_put (flow, FW_KIT_VIEW, x + words + gap, flow->y, width - words - gap, tall - 16 * unit)->index = (int)step;
  flow->y += tall + 8 * unit;
}

static gboolean
has_step (const FwDesign *d, FwKitStep step)
{
  switch (step)
    {
    case FW_STEP_CRANK:
      return d->crank.n_throws > 0;
    case FW_STEP_POST:
      return d->body.ride != FW_RIDE_FIXED;
    case FW_STEP_PANELS:
      return d->n_panels > 0;
    case FW_STEP_RODS:
      return d->n_rods > 0;
    case FW_STEP_STOPS:
      for (int i = 0; i < d->n_panels; i++)
        if (d->panels[i].has_stops)
          return TRUE;
      return FALSE;
    default:
      return TRUE;
    }
}

static void
steps (FwKitFlow *flow)
{
  int number = 0;
  fw_kit_flow_page (flow, _ ("Putting it together"));
  for (int step = 0; step < FW_KIT_N_STEPS; step++)
    if (has_step (flow->kit->mechanism->design, (FwKitStep)step))
      put_step (flow, (FwKitStep)step, ++number);
}

/* ---- The rest ---- */

static void
sentences (FwKitFlow *flow, const char *heading, const char *first, char *const *lines, gboolean numbered)
{
  if (lines == NULL || lines[0] == NULL)
    return;
  fw_kit_flow_page (flow, heading);
  if (first != NULL)
    fw_kit_paragraph (flow, first, 8.5, FALSE, heading);
  fw_kit_list (flow, lines, numbered, heading);
}

static void
motion (FwKitFlow *flow)
{
  const char *heading = _ ("Checking the motion");
  double unit = flow->unit;
  fw_kit_flow_page (flow, heading);
  fw_kit_paragraph (flow,
                    _ ("Turn the crank by hand to each angle below and compare. If a panel stands higher or lower than "
                       "here, its rod is too long or too short; if it is early or late, the phase of its throw is off."),
                    8.5, FALSE, heading);
  double tall = (flow->foot - flow->y - 20 * unit) / 2;
  for (int i = 0; i < 2; i++)
    {
      fw_kit_put (flow, FW_KIT_STRIP, flow->left, flow->y + 4 * unit, fw_kit_flow_width (flow), tall)->index
          = i == 0 ? FW_STRIP_FRONT : FW_STRIP_SIDE;
      flow->y += tall + 12 * unit;
    }
}

static void
notes (FwKitFlow *flow)
{
  const FwKit *kit = flow->kit;
  g_autoptr (GPtrArray) list = g_ptr_array_new_with_free_func (g_free);
  for (int i = 0; i < kit->solids->n_parts; i++)
    {
      const FwSolidPart *part = &kit->solids->parts[i];
      if (part->problem != NULL)
        g_ptr_array_add (list, g_strdup (part->problem));
      else
        g_ptr_array_add (list, g_strdup_printf (C_ ("part, what it fits", "%s  %s: %s"), part->letter, part->name,
                                                part->note));
    }
  for (int i = 0; kit->cut->problems != NULL && kit->cut->problems[i] != NULL; i++)
    g_ptr_array_add (list, g_strdup (kit->cut->problems[i]));
  for (int i = 0; kit->cut->notes != NULL && kit->cut->notes[i] != NULL; i++)
    g_ptr_array_add (list, g_strdup (kit->cut->notes[i]));
  g_ptr_array_add (list, NULL);
  sentences (flow, _ ("Notes on parts"), NULL, (char **)list->pdata, FALSE);
}

void
fw_kit_fill (FwKitFlow *flow)
{
  const FwCutList *cut = flow->kit->cut;
  cover (flow);
  before_you_start (flow);
  fw_kit_fill_parts (flow);
  fittings (flow);
  steps (flow);
  sentences (flow, _ ("In order, one thing at a time"), _ ("What comes later bars the way of nothing here."), cut->assembly,
             TRUE);
  sentences (flow, _ ("Settings"), _ ("Mark these on the parts before you join them."), cut->settings, FALSE);
  motion (flow);
  notes (flow);
}
