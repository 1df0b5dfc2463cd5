/* Inside the aim layer: wishes held against one design, as numbers to be made small.
 *
 * A point x is the values of the free numbers, in the file's units. Every wish gives rows r (x), 0 where
 * it is met, about 1 for a degree or millimetre that is missing; what cannot be assembled gives rows of
 * its own, so that there is a way back from everywhere. */
#pragma once

#include "aim/wish.h"
#include "core/loadturn.h"
#include "core/sensitivity.h"

G_BEGIN_DECLS

/* Steps of a turn while searching; ends of swing are found exactly between them. */
#define FW_AIM_STEPS 64

typedef struct
{
  const FwWish *wish;
  int member, other; /* of part and other */
  int link;          /* -1: all */
  FwParam *params;   /* NUMBER, SAME */
  int *free;         /* which free number each is; -1: none */
  int n_params;
  double per_unit;   /* rows per unit of what is missing */
} FwGoal;

typedef struct
{
  FwDesign *design; /* as it is now; free numbers inside their limits */
  FwWishes *wishes;
  FwGoal *goals;    /* one a wish */
  int n_goals;
  FwParam *params;  /* free numbers */
  int n;
  double *lower, *upper, *start; /* start: the present values, put inside the limits */
  double **among;   /* lists, ascending, inside the limits; NULL: any value */
  int *n_among;
  int n_members;
  gboolean torque, trouble, load_trouble; /* asked for by some wish */
} FwProblem;

/* The wishes must have passed fw_wishes_check (). */
FwProblem *fw_problem_new (const FwDesign *design, const FwWishes *wishes);
void fw_problem_free (FwProblem *problem);

/* Rows: goals, then body and members (what is missing). */
static inline int
fw_problem_rows (const FwProblem *p)
{
  return p->n_goals + 1 + p->n_members;
}

/* What one thread needs to judge points. Not shared. */
typedef struct FwJudge FwJudge;
FwJudge *fw_judge_new (const FwProblem *problem);
void fw_judge_free (FwJudge *judge);

/* Rows at x. `got` [goals]: what each wish got, in its unit (NULL: not asked). FALSE: x is no design. */
gboolean fw_judge_rows (FwJudge *judge, const double *x, double *rows, double *got);

/* d rows / d x at the point judged last, column by column: slopes[number * rows + row]. Of angles, push,
 * body and missing lengths exact; of torque and trouble by differences. */
void fw_judge_slopes (FwJudge *judge, const double *x, double *slopes);

/* What is missing from a wish for it to be met by `got`, in its unit, signed: below 0 too little. */
double fw_wish_miss (const FwWish *wish, double got);

/* How far off a wish may be and still count as met: 0.05 mm or degree, half a percent of a torque. */
double fw_wish_allowance (const FwWish *wish);

/* A design with the free numbers at x, file units; free with fw_design_free (). NULL: out of memory. */
FwDesign *fw_problem_design (const FwProblem *problem, const double *x);

/* ---- Between problem.c and measure.c ---- */

/* One value of the turn that a goal is made of: got = sum of sign * value. */
typedef struct
{
  FwQuantity quantity;
  double sign;
  double crank; /* where it stands */
  double value; /* degrees or mm */
} FwTerm;

typedef struct
{
  FwTerm terms[2];
  int n;
} FwReading;

struct FwJudge
{
  const FwProblem *problem;
  FwDesign *design;
  FwMechanism *mech; /* of the point judged last */
  FwPose *pose;
  FwTurn *turn;      /* where trouble is asked for */
  FwLoadTurn *forces;
  FwLoads *loads;
  FwSensitivity *by;
  double *angles;    /* [member][step] rad */
  double *others;    /* [body z, tilt, then links: squareness][step] */
  FwReading *readings; /* [goals] */
  double *missing, *missing_at; /* [1 + members]: worst, mm; and the crank angle there */
  double torque_at, torque_sign;
  double *got, *spare, *slope; /* room */
  double cosine[FW_AIM_STEPS], sine[FW_AIM_STEPS];
};

/* Solves the turn of the mechanism and fills readings and missing lengths. */
void fw_judge_measure (FwJudge *judge);
/* Size of the crank torque where it is largest; sets torque_at. */
double fw_judge_torque (FwJudge *judge);
/* Excess of all trouble of these kinds, with a little for each spot; and how many spots. */
double fw_judge_trouble (FwJudge *judge, guint kinds, int *spots);

G_END_DECLS
