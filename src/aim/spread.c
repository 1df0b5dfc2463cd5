/* How far off the pieces come, by the way they are made. Common practice in a small workshop. */
#include "aim/tolerance.h"

/* A pin bent by hand, soldered into elbows, or bolted through drilled webs. */
static double
crank_spread (const FwDesign *design, FwParamKind kind)
{
  const FwCrankBuild *build = &design->crank.build;
  FwMake make = build->given ? build->make : FW_MAKE_BENT;
  static const double radius[] = { [FW_MAKE_ELBOWS] = 1, [FW_MAKE_BOLTED] = 0.3, [FW_MAKE_BENT] = 1 };
  static const double phase[] = { [FW_MAKE_ELBOWS] = 2, [FW_MAKE_BOLTED] = 1, [FW_MAKE_BENT] = 3 };
  static const double station[] = { [FW_MAKE_ELBOWS] = 1.5, [FW_MAKE_BOLTED] = 0.5, [FW_MAKE_BENT] = 2 };

  return kind == FW_PARAM_THROW_RADIUS ? radius[make]
         : kind == FW_PARAM_THROW_PHASE ? phase[make]
                                        : station[make];
}

double
fw_spread_default (const FwDesign *design, FwParam param)
{
  switch (param.kind)
    {
    case FW_PARAM_THROW_RADIUS:
    case FW_PARAM_THROW_PHASE:
    case FW_PARAM_THROW_STATION:
      return crank_spread (design, param.kind);
    case FW_PARAM_BODY_ROD: /* cut to a millimetre */
    case FW_PARAM_BODY_POST:
    case FW_PARAM_BODY_LINK:
    case FW_PARAM_BODY_ON:
    case FW_PARAM_ROD_LENGTH:
    case FW_PARAM_BODY_AT: /* drilled by eye */
    case FW_PARAM_BODY_OFFSET:
    case FW_PARAM_BODY_GUIDE:
    case FW_PARAM_BODY_PIVOT:
    case FW_PARAM_PANEL_HINGE:
    case FW_PARAM_ROD_FROM:
    case FW_PARAM_ROD_AT:
    case FW_PARAM_BODY_TILT: /* a degree */
    case FW_PARAM_PANEL_SWEEP:
    case FW_PARAM_PANEL_CANT:
      return 1;
    case FW_PARAM_PANEL_STOP:
      return 2;
    default:
      return 0;
    }
}
