/* From the JSON tree to a design, with every rule of the file format. Internal to this layer.
 *
 * The first rule that is broken ends the reading with one line: "NAME: KEY PATH: what was expected,
 * what was found". Rules and defaults: docs/file-format.md. */
#pragma once

#include <cjson/cJSON.h>
#include <glib.h>

#include "core/design.h"
#include "doc/document.h"

G_BEGIN_DECLS

/* The design that the tree states, or NULL and a FW_DOC_ERROR. Free with fw_design_free (). */
FwDesign *fw_design_read (const cJSON *tree, const char *name, GError **error);

/* ---- The pieces ---- */

/* Where the reading stands. `path` is the key path of the object being read. */
typedef struct
{
  const char *name;
  GString *path;
  GError **error;
  const cJSON *materials; /* the design's own, or NULL */
} FwReader;

typedef enum
{
  FW_RULE_ANY,          /* below 1e6 in size, as all numbers */
  FW_RULE_ABOVE_ZERO,
  FW_RULE_NOT_NEGATIVE,
  FW_RULE_JOINT_LIMIT,  /* above 0, up to 90 */
} FwRule;

typedef enum { FW_OPTIONAL, FW_REQUIRED } FwNeed;

/* Number of named parts of one kind and where each name stands. */
typedef GHashTable FwNames; /* char* -> GINT_TO_POINTER (index + 1) */

/* All return FALSE (or NULL) with the error set. `key` NULL: the object at `path` itself. */
gboolean fw_read_fail (FwReader *r, const char *key, FwDocError code, const char *format, ...)
    G_GNUC_PRINTF (4, 5);
gboolean fw_read_no_memory (FwReader *r);

/* Enters a key or an array item of the object being read; returns what fw_read_leave () takes. */
gsize fw_read_enter (FwReader *r, const char *key);
gsize fw_read_enter_nth (FwReader *r, const char *key, int index);
void fw_read_leave (FwReader *r, gsize mark);

/* In the file's unit. An optional value that is absent leaves *out as it is: put the default there first. */
gboolean fw_read_number (FwReader *r, const cJSON *object, const char *key, FwNeed need, FwRule rule,
                         double *out);
gboolean fw_read_numbers (FwReader *r, const cJSON *object, const char *key, FwNeed need, FwRule rule,
                          int count, double *out);
gboolean fw_read_point (FwReader *r, const cJSON *object, const char *key, FwNeed need, FwVec3 *out);
gboolean fw_read_pair (FwReader *r, const cJSON *object, const char *key, FwNeed need, FwVec2 *out);
gboolean fw_read_text (FwReader *r, const cJSON *object, const char *key, FwNeed need, const char **out);
/* true or false; absent: as it is. */
gboolean fw_read_flag (FwReader *r, const cJSON *object, const char *key, bool *out);
/* One of `words` (NULL at the end); *out is its index. */
gboolean fw_read_choice (FwReader *r, const cJSON *object, const char *key, FwNeed need,
                         const char *const *words, int *out);
gboolean fw_read_object (FwReader *r, const cJSON *object, const char *key, FwNeed need,
                         const cJSON **out);
gboolean fw_read_array (FwReader *r, const cJSON *object, const char *key, FwNeed need,
                        const cJSON **out);
/* A material: a name, copied with malloc over the default. */
gboolean fw_read_material (FwReader *r, const cJSON *object, const char *fallback, char **out);
/* The name of a part: not empty, no control characters, not in `names` yet; put there as `index`. */
gboolean fw_read_name (FwReader *r, const cJSON *object, FwNames *names, int index, char **out);
/* That no other part has the name of a twin of this one, NAME.right or NAME.left: results could not
 * be told apart. For parts with twins, once all names are read. */
gboolean fw_read_twin_names (FwReader *r, const char *name, FwNames *names);
/* The part that `key` refers to by name: a throw or a panel. */
gboolean fw_read_reference (FwReader *r, const cJSON *object, const char *key, FwNames *names,
                            gboolean is_throw, int *out);

/* The design that stands at `path`, as fw_design_read (). */
FwDesign *fw_design_read_within (FwReader *r, const cJSON *tree);

gboolean fw_read_panels (FwReader *r, const cJSON *root, FwDesign *design, FwNames *panels);
gboolean fw_read_rods (FwReader *r, const cJSON *root, FwDesign *design, FwNames *throws,
                       FwNames *panels);
gboolean fw_read_base (FwReader *r, const cJSON *root, FwDesign *design);
gboolean fw_read_look (FwReader *r, const cJSON *root, FwDesign *design, FwNames *panels);
/* The form of `wishes` and of `versions`; neither shapes the design. */
gboolean fw_read_wishes (FwReader *r, const cJSON *root);
gboolean fw_read_versions (FwReader *r, const cJSON *root);
/* The form of `measured`: that the parts are there is asked when it is used. */
gboolean fw_read_measured (FwReader *r, const cJSON *root);
/* The design's own materials (stock.materials), checked; before all parts. */
gboolean fw_read_stock (FwReader *r, const cJSON *root);
/* What the maker has to cut from (stock.bars, sheets, kerf, rod_ends); after fw_read_stock (). */
gboolean fw_read_cutting (FwReader *r, const cJSON *root, FwDesign *design);
/* How the crank is made (crank.build); after the stock and the crank's own diameter. */
gboolean fw_read_build (FwReader *r, const cJSON *crank, FwDesign *design);
/* What the material that an object names is like; all 0 where it names none or none that is known. */
FwStuff fw_read_stuff (FwReader *r, const cJSON *object);
/* A wall thickness, at most half the diameter; and a clearance. */
gboolean fw_read_wall (FwReader *r, const cJSON *object, double diameter_mm, double *wall_mm);
/* Mass per length of a round bar or tube, g/mm. */
double fw_bar_mass (double diameter_mm, double wall_mm, double density_kgm3);
/* How printed parts are made. */
gboolean fw_read_print (FwReader *r, const cJSON *root, FwDesign *design);
gboolean fw_read_drive (FwReader *r, const cJSON *root, FwDesign *design);
/* Springs and cords, after panels; counterweights of the crank. */
gboolean fw_read_springs (FwReader *r, const cJSON *root, FwDesign *design, FwNames *panels);
gboolean fw_read_crank_weights (FwReader *r, const cJSON *crank, FwCrank *out);
/* Weighed things on the body (lumps). */
gboolean fw_read_lumps (FwReader *r, const cJSON *body, FwBody *out);

/* How far off numbers come out (spread); once the design can be built. */
gboolean fw_read_spread (FwReader *r, const cJSON *root, const FwDesign *design);

/* What is wrong with an outline as a simple polygon, or FW_OUTLINE_SIMPLE. */
typedef enum
{
  FW_OUTLINE_SIMPLE,
  FW_OUTLINE_REPEATS, /* point *a repeats the one before it (point 0: the last one) */
  FW_OUTLINE_CROSSES, /* the edges that start at points *a and *b cross or touch */
  FW_OUTLINE_FLAT,    /* no area */
} FwOutlineFault;
FwOutlineFault fw_outline_check (const FwVec2 *points, int n, int *a, int *b);

G_END_DECLS
