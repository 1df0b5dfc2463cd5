/* What every quantity means, in plain words: one set for window, command line and guide.
 *
 * Words only; the drawing of each is draw/explainpicture.h, by the same id. */
#pragma once

#include <glib.h>

#include "core/turn.h"
#include "core/trouble.h"
#include "doc/units.h"

G_BEGIN_DECLS

typedef enum
{
  FW_TOPIC_CRANK,
  FW_TOPIC_BODY,
  FW_TOPIC_PANELS,
  FW_TOPIC_RODS,
  FW_TOPIC_EXTRAS,  /* springs, weights, base, drive */
  FW_TOPIC_MOTION,
  FW_TOPIC_LOADS,
  FW_TOPIC_TROUBLE,
  FW_TOPIC_WISHES,
  FW_TOPIC_MAKING,  /* made by hand, measured, cut and printed */
  FW_N_TOPICS
} FwTopic;

typedef enum
{
  FW_CAUTION_NONE,
  FW_CAUTION_PINCH,
  FW_CAUTION_SPRING,
  FW_CAUTION_WEIGHT,
  FW_CAUTION_MOTOR,
  FW_CAUTION_TIPPING,
  FW_CAUTION_CUTTING,
  FW_CAUTION_STRENGTH,
  FW_N_CAUTIONS
} FwCaution;

/* Words are in English; fw_explain_tr () translates them. NULL where there is nothing to say. */
typedef struct
{
  const char *id;       /* "push-angle"; never translated */
  FwTopic topic;
  FwUnit unit;          /* FW_UNIT_NONE: a plain number, or none at all */
  const char *title;
  const char *text;     /* what it is: one to three sentences */
  const char *positive; /* which way is positive */
  const char *usual;    /* what usually is good, and who says so */
  const char *mend;     /* what to do when it is bad */
  FwCaution caution;
  const char *more;     /* page of the guide and section: "model.md#3-panels" */
} FwExplain;

/* All of them, topic by topic. */
const FwExplain *const *fw_explain_all (int *n);

/* By id; NULL if there is none. */
const FwExplain *fw_explain_find (const char *id);

/* Those whose id or title (in English or translated) is or else holds the word, whatever its case.
 * Free with g_ptr_array_unref (). */
GPtrArray *fw_explain_search (const char *word);

/* Never NULL for a kind there is. */
const FwExplain *fw_explain_param (FwParamKind kind);
const FwExplain *fw_explain_quantity (FwQuantityKind kind);
const FwExplain *fw_explain_trouble (FwTroubleKind kind);
/* By the word that the file uses for the kind of wish: "top", "after". */
const FwExplain *fw_explain_wish (const char *kind_name);

const char *fw_explain_topic_words (FwTopic topic);
const char *fw_explain_caution_words (FwCaution caution); /* NULL for none */
const char *fw_explain_tr (const char *words); /* translated; NULL stays NULL */

/* Unit as words: "mm", "degrees"; NULL where it has none. */
const char *fw_explain_unit_words (const FwExplain *explain, FwLengths lengths);

/* All of one in plain text, in lines of at most 78 letters; free with g_free. */
char *fw_explain_text (const FwExplain *explain, FwLengths lengths);
/* The glossary page of the guide; pictures are pictures/words-ID.png. Free with g_free. */
char *fw_explain_page (void);

G_END_DECLS
