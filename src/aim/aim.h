/* The search: from wishes and free numbers to designs. How it goes about it: docs/aim.md. */
#pragma once

#include "aim/wish.h"

G_BEGIN_DECLS

typedef struct
{
  double got;   /* in the wish's unit; of WITHOUT: how many spots of trouble */
  double miss;  /* got less what was asked, signed; 0 where met */
  gboolean met; /* to within fw_wish_allowance () */
} FwGot;

typedef struct
{
  FwDesign *design;
  double *values;       /* of the free numbers, file units */
  FwGot *got;           /* wish by wish */
  gboolean all_met;     /* every wish, and it goes all the way round */
  gboolean goes_round;
  double cost;          /* sum of squares: a degree or mm missed at weight 1 counts 1 */
  double change;        /* 0..1: largest share of its range by which a number has moved */
  double least_push_deg;
  int n_troubles;       /* warnings and failures of motion */
} FwAnswer;

typedef struct
{
  FwAnswer *answers;    /* best first; none only if stopped before anything was tried */
  int n_answers;
  int n_wishes, n_free;
  int *conflict;        /* wishes that cannot be had together, as far as was found: without any one of
                         * them the rest of these can; empty if all are met, or if stopped */
  int n_conflict;
  int *limited;         /* free numbers at a limit in the best answer, where that holds a wish back */
  int n_limited;
  gboolean stopped;
  gint64 n_tried;       /* designs judged */
} FwAimed;

typedef struct
{
  guint32 seed;    /* the same seed, runs and design give the same answers on any number of threads */
  int runs;        /* starts to search from; 0: 128, less where answers are found sooner */
  double seconds;  /* stop after so long (what is found then depends on the machine); 0: no limit */
  int answers;     /* how many unlike ones are wanted; 0: 3 */
  int threads;     /* 0: as many as there are processors */
} FwAimOptions;

/* Called a few times a second, in the thread that called fw_aim (), and at the end of every round.
 * `best` may be NULL at first, and is valid during the call only. FALSE: stop. */
typedef gboolean (*FwAimWatch) (double fraction, double cost, const FwDesign *best, gpointer data);

/* NULL and one line in `error` where the wishes cannot be searched for (fw_wishes_check ()). The design
 * is only read. */
FwAimed *fw_aim (const FwDesign *design, const FwWishes *wishes, const FwAimOptions *options,
                 FwAimWatch watch, gpointer data, GError **error);
void fw_aimed_free (FwAimed *aimed);

/* How the present design stands to the wishes, without a search: one answer. */
FwAimed *fw_aim_look (const FwDesign *design, const FwWishes *wishes, GError **error);

/* The changes that make the document's design that of an answer, for fw_document_change (): one for each
 * free number, in order. Free with g_free. */
FwChange *fw_answer_changes (const FwAimed *aimed, int answer, const FwDesign *design,
                             const FwWishes *wishes, int *n_changes);

/* What cannot be had together, in a sentence; NULL if there is nothing to say. Free with g_free. */
char *fw_aimed_words (const FwAimed *aimed, const FwDesign *design, const FwWishes *wishes, FwLengths lengths);

G_END_DECLS
