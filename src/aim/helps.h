/* What helps: which numbers of the design move the thing in hand, how strongly, and how far each can go.
 *
 * Effects are exact derivatives (core/sensitivity.h); of torque, rates, clearance and other trouble they
 * are differences of the exact solution, and marked so. */
#pragma once

#include "aim/wish.h"

G_BEGIN_DECLS

typedef enum
{
  FW_HELP_POSE,     /* a quantity at a crank angle */
  FW_HELP_LEAST,    /* the least a quantity gets over the turn */
  FW_HELP_GREATEST, /* the greatest */
  FW_HELP_TROUBLE,  /* a trouble's excess over its limit */
  FW_HELP_TORQUE,   /* largest size of the crank torque */
} FwHelpKind;

typedef struct
{
  FwHelpKind kind;
  FwQuantity quantity; /* POSE, LEAST, GREATEST; the part is that of the mechanism */
  double crank;        /* POSE: rad */
  FwTrouble trouble;   /* TROUBLE: as found in this design */
  /* TROUBLE of the crank as it is made: who finds it in a design that is tried (fw_shop_trouble_find (), which this layer
   * does not know). NULL: no number then has an effect on it. */
  void (*find_making) (const FwMechanism *mechanism, FwTroubleList *list);
} FwHelpOf;

typedef struct
{
  FwParam param;
  double value;    /* of the number now, file unit */
  double effect;   /* on the thing in hand, in its shown unit (mm, degrees, N m, ...), per file unit of the
                    * number; of a trouble: on its value (fw_help_value ()) */
  gboolean exact;  /* a derivative, not a difference */
  gboolean has_reach; /* the next two are known */
  double from, to; /* as far as the number may go, down and up, without trouble that is not there now; file
                    * units, inside fw_param_range (). Trouble of motion, warnings and worse */
  gboolean from_open, to_open; /* no trouble came up to the end of the range */
} FwHelp;

/* The numbers with an effect, strongest first by what a millimetre or degree does (other units by what a
 * hundredth of the value does come after); at most `capacity`. Of the strongest `n_reach` it is found how
 * far they can go. `stop` may be NULL; it is asked once for each turn of 72 poses, roughly, so that who counts can
 * bound the work. Where it says so the numbers not tried yet are missing. Returns how many; -1: no memory, or no such thing. */
int fw_helps (const FwDesign *design, const FwHelpOf *of, FwHelp *list, int capacity, int n_reach,
              FwStop stop, void *stop_data);

/* The thing in hand now, in its shown unit. */
double fw_help_value (const FwDesign *design, const FwHelpOf *of);
FwUnit fw_help_unit (const FwHelpOf *of);

/* For a trouble, a sign and no unit: +1 where a greater value mends it, -1 where a smaller one does. */
double fw_help_better (const FwTrouble *trouble);

/* "arm.top", "arm.bottom", "tip.angle@90", "tip@90", "inrod.push" (least), "inrod.lean", "inrod.bend"
 * (greatest), "body.z.top", "body.z.bottom", "body.tilt.top", "body.tilt.bottom", "body.z@90",
 * "body.tilt@90", "torque". FALSE: one line. */
gboolean fw_help_parse (const FwDesign *design, const char *text, FwHelpOf *out, GError **error);

/* The effect as it is shown, in the shown unit of the thing per file unit of the number: lengths, and what is done to them, in `lengths`. */
double fw_help_shown (const FwHelpOf *of, const FwHelp *help, FwLengths lengths);

/* "Lengthen inrod: top of inner +0.41° per mm; free of new trouble from 405 mm to 431 mm." g_free. */
char *fw_help_words (const FwDesign *design, const FwHelpOf *of, const FwHelp *help, FwLengths lengths);

G_END_DECLS
