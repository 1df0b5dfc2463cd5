#include "core/making.h"

#include <string.h>

#define INCH 25.4
#define POUND_PER_FOOT (0.45359237 / 0.3048) /* kg/m */
#define WIRE_MM 4.0                          /* bent by hand up to this */

/* Take-off (tube stop to centre) of 90 degree elbows: a plumbing textbook's table; cups: the copper
 * trade's table for solder joints. */
static const FwTube tubes[] = {
  { "1/4 in L", 0.375 * INCH, 0.030 * INCH, 0.31 * INCH, 0, 0.126 * POUND_PER_FOOT },
  { "3/8 in L", 0.500 * INCH, 0.035 * INCH, 0.38 * INCH, 0, 0.198 * POUND_PER_FOOT },
  { "3/8 in M", 0.500 * INCH, 0.025 * INCH, 0.38 * INCH, 0, 0.145 * POUND_PER_FOOT },
  { "1/2 in L", 0.625 * INCH, 0.040 * INCH, 0.50 * INCH, 0.375 * INCH, 0.285 * POUND_PER_FOOT },
  { "1/2 in M", 0.625 * INCH, 0.028 * INCH, 0.50 * INCH, 0.375 * INCH, 0.204 * POUND_PER_FOOT },
  { "5/8 in L", 0.750 * INCH, 0.042 * INCH, 0.62 * INCH, 0, 0.362 * POUND_PER_FOOT },
  { "3/4 in L", 0.875 * INCH, 0.045 * INCH, 0.75 * INCH, 17.0 / 32 * INCH, 0.455 * POUND_PER_FOOT },
  { "3/4 in M", 0.875 * INCH, 0.032 * INCH, 0.75 * INCH, 17.0 / 32 * INCH, 0.328 * POUND_PER_FOOT },
  { "1 in L", 1.125 * INCH, 0.050 * INCH, 0.91 * INCH, 23.0 / 32 * INCH, 0.655 * POUND_PER_FOOT },
  { "1 in M", 1.125 * INCH, 0.035 * INCH, 0.91 * INCH, 23.0 / 32 * INCH, 0.465 * POUND_PER_FOOT },
  { "12 x 1", 12, 1, 0, 0, 0.308 },
  { "15 x 0.7", 15, 0.7, 0, 0, 0 },
  { "15 x 1", 15, 1, 0, 0, 0.391 },
  { "18 x 1", 18, 1, 0, 0, 0.475 },
  { "22 x 0.9", 22, 0.9, 0, 0, 0 },
  { "22 x 1", 22, 1, 0, 0, 0.587 },
  { "22 x 1.5", 22, 1.5, 0, 0, 0.860 },
  { "28 x 0.9", 28, 0.9, 0, 0, 0 },
  { "28 x 1.5", 28, 1.5, 0, 0, 1.111 },
};

int
fw_tube_count (void)
{
  return (int)(sizeof tubes / sizeof tubes[0]);
}

const FwTube *
fw_tube_nth (int i)
{
  return &tubes[i];
}

const FwTube *
fw_tube_find (const char *name)
{
  for (int i = 0; i < fw_tube_count (); i++)
    if (strcmp (tubes[i].name, name) == 0)
      return &tubes[i];
  return NULL;
}

static void
complete (double *value, double otherwise)
{
  if (!(*value > 0))
    *value = otherwise;
}

/* Bend radius and shortest leg: common practice, without source. Solid wire goes tightly round a peg
 * or plier jaw of its own size; thin tube kinks below three diameters. */
void
fw_making_complete (FwCrankBuild *make)
{
  const FwTube *tube = make->pipe == NULL ? NULL : fw_tube_find (make->pipe);
  bool hollow = make->wall_mm > 0 && make->wall_mm < make->pipe_mm / 2;
  double pipe = make->pipe_mm;
  complete (&make->take_off_mm, tube != NULL && tube->take_off_mm > 0 ? tube->take_off_mm : 0.375 * INCH);
  complete (&make->cup_mm, tube != NULL && tube->cup_mm > 0 ? tube->cup_mm : 0.5 * INCH);
  complete (&make->web_thickness_mm, 6);
  complete (&make->web_width_mm, 20);
  complete (&make->bolt_mm, 6);
  complete (&make->bend_radius_mm, hollow ? 3 * pipe : 1.5 * pipe);
  complete (&make->neutral, 0.5);
  complete (&make->leg_mm, hollow ? 2 * pipe : pipe);
  complete (&make->clamp_mm, 8);
  complete (&make->eye_bore_mm, pipe + 0.4);
  complete (&make->bearing_mm, 10);
  complete (&make->bearing_bore_mm, pipe + 0.4);
  complete (&make->grip_mm, 90);
}

FwCrankBuild
fw_making (const FwDesign *design)
{
  FwCrankBuild make = design->crank.build;
  if (!make.given)
    {
      make = (FwCrankBuild) { .returns = true };
      make.make = design->crank.diameter_mm <= WIRE_MM ? FW_MAKE_BENT : FW_MAKE_BOLTED;
    }
  if (!(make.pipe_mm > 0))
    {
      make.pipe_mm = design->crank.diameter_mm;
      make.wall_mm = design->crank.wall_mm;
    }
  fw_making_complete (&make);
  return make;
}
