/* What the maker wants of the motion, and which numbers may change for it.
 *
 * Wishes speak of parts by name and are kept so in the design file (docs/file-format.md, `wishes`);
 * they are held against a design when a search begins. mm, degrees, N m. */
#pragma once

#include <glib.h>

#include "core/trouble.h"
#include "doc/document.h"
#include "doc/units.h"

G_BEGIN_DECLS

typedef enum
{
  FW_WISH_TOP,     /* greatest angle of a panel, deg */
  FW_WISH_BOTTOM,  /* least angle, deg */
  FW_WISH_STROKE,  /* greatest less least, deg */
  FW_WISH_ANGLE,   /* angle at a crank angle, deg: what dragging a panel's ghost asks for */
  FW_WISH_AFTER,   /* crank angle from `other` at its top to `part` at its top, deg, -180..180 */
  FW_WISH_TRAVEL,  /* of the body, up and down, mm */
  FW_WISH_TILT,    /* of the body: greatest less least, deg */
  FW_WISH_PUSH,    /* least push angle of a rod, or of all, deg */
  FW_WISH_TORQUE,  /* largest size of the crank torque at the design's speed, N m */
  FW_WISH_WITHOUT, /* no trouble of the chosen kinds */
  FW_WISH_NUMBER,  /* a number within limits or from a list: throws that fittings allow, stock lengths */
  FW_WISH_SAME,    /* numbers alike: equal rods */
  FW_N_WISH_KINDS
} FwWishKind;

typedef struct
{
  FwWishKind kind;
  char *part;          /* panel (or NAME.left of a pair) or rod; NULL: the body, or all rods */
  char *other;         /* AFTER */
  double crank_deg;    /* ANGLE */
  guint kinds;         /* WITHOUT: a bit for each FwTroubleKind */
  char **numbers;      /* NUMBER: one key path; SAME: two or more; else NULL */
  double least, most;  /* equal: exactly this; -+INFINITY: open */
  double *among;       /* NUMBER: one of these; NULL: no list */
  int n_among;
  double weight;       /* how much it matters, above 0; 1 as a rule */
} FwWish;

/* A number that may change. */
typedef struct
{
  char *number;        /* key path */
  double least, most;  /* NAN: as far as a slider goes (fw_param_range) */
  double *among;       /* only these; NULL: any */
  int n_among;
} FwFree;

typedef struct
{
  FwWish *list;
  int n_list;
  FwFree *free;
  int n_free;
} FwWishes;

FwWishes *fw_wishes_new (void);
FwWishes *fw_wishes_copy (const FwWishes *wishes);
void fw_wishes_free (FwWishes *wishes);
/* Take over what the item owns. */
void fw_wishes_add (FwWishes *wishes, FwWish wish);
void fw_wishes_add_free (FwWishes *wishes, FwFree item);
/* Takes the place of the wish that asks the same of the same part (at the same crank angle), or is added:
 * what dragging a ghost on does. Returns its place. */
int fw_wishes_put (FwWishes *wishes, FwWish wish);
/* That both ask the same of the same part: only what is wanted of it may differ. */
gboolean fw_wish_same_subject (const FwWish *a, const FwWish *b);
void fw_wishes_remove (FwWishes *wishes, int wish);
void fw_wishes_remove_free (FwWishes *wishes, int item);

/* "inner.top=30", "inner.bottom=..-20", "inner.stroke=50..60", "tip@90=12", "tip.after.arm=35",
 * "body.travel=60", "body.tilt=20", "push=45", "inrod.push=50", "torque=0.6", "without=hits,weak-push",
 * "without=any", "in.radius=20..45", "inrod.length=300,350,400", "same=inrod.length,outrod.length"; "*2"
 * at the end: matters twice as much. One value for push is the least, for torque the most. FALSE: one
 * line in `error`; *out untouched. */
gboolean fw_wish_parse (const FwDesign *design, const char *text, FwWish *out, GError **error);

/* "inrod.length", "in.radius=20..45", "inrod.length=300,350,400". */
gboolean fw_free_parse (const FwDesign *design, const char *text, FwFree *out, GError **error);

/* A number by its key path or, where that is not ambiguous, by PART.NUMBER. */
gboolean fw_number_from_name (const FwDesign *design, const char *name, FwParam *param, GError **error);

/* That every wish speaks of parts of this design, that none contradicts another by itself, and that
 * the free numbers can move. FALSE: one line. */
gboolean fw_wishes_check (const FwWishes *wishes, const FwDesign *design, GError **error);

/* The member a panel's name stands for: NAME.left or NAME.right of a pair, else the right-hand, middle
 * or only one. -1: none. */
int fw_wish_member (const FwMechanism *mechanism, const char *name);
/* The same of a rod's name among the links. */
int fw_wish_link (const FwMechanism *mechanism, const char *name);

/* ---- In the design file ---- */

/* Those of the file; empty if it has none. Free with fw_wishes_free (). */
FwWishes *fw_document_wishes (const FwDocument *doc);
/* As one step of undo, called `label`; an empty set removes the section. Keys of a wish that this
 * program does not know are kept where the wish itself has not changed. */
gboolean fw_document_set_wishes (FwDocument *doc, const FwWishes *wishes, const char *label, GError **error);

/* ---- In words (translated; free with g_free) ---- */

/* "top of inner 30°", "in.radius from 20 mm to 45 mm" */
char *fw_wish_words (const FwWish *wish, FwLengths lengths);
/* A value of the wish's quantity: "28.4°", "3 spots of trouble" */
char *fw_wish_value_words (const FwWish *wish, double value, FwLengths lengths);
/* Of `value`, in the file's terms. */
FwUnit fw_wish_unit (const FwWish *wish);
/* "top", ...: the word the file uses; static. */
const char *fw_wish_kind_name (FwWishKind kind);

G_END_DECLS
