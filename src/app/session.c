#include "app/session.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "app/sessionprivate.h"
#include "doc/words.h"
#include "draw/forces.h"

#define FIRST_CURVES 3
#define FIRST_SHOW                                                                                          \
  (FW_SHOW_TRACES | FW_SHOW_TROUBLE | FW_SHOW_STOPS | FW_SHOW_HANDLES | FW_SHOW_SCALE_BAR | FW_SHOW_SIDES    \
   | FW_SHOW_SWING)

static guint signals[FW_N_SESSION_SIGNALS];

G_DEFINE_FINAL_TYPE (FwSession, fw_session, G_TYPE_OBJECT)

void
fw_session_emit (FwSession *self, FwSessionSignal signal)
{
  g_signal_emit (self, signals[signal], 0);
}

void
fw_session_emit_index (FwSession *self, FwSessionSignal signal, int index)
{
  g_signal_emit (self, signals[signal], 0, (guint) index);
}

/* ---- Solving ---- */

static void
session_list_params (FwSession *self, const FwDesign *design)
{
  int n = fw_design_params (design, NULL, 0);

  g_array_set_size (self->params, (guint) n);
  fw_design_params (design, (FwParam *) self->params->data, n);
}

static gboolean
part_exists (const FwMechanism *mech, FwPart part)
{
  if (part.kind == FW_PART_MEMBER)
    return part.index < mech->n_members;
  if (part.kind == FW_PART_LINK)
    return part.index < mech->n_links;
  if (part.kind == FW_PART_SPRING)
    return part.index < mech->n_coils;
  if (part.kind == FW_PART_WEIGHT)
    return part.index < mech->design->crank.n_weights;
  return TRUE;
}

static void
session_drop_lost_curves (FwSession *self)
{
  int kept = 0;
  for (int i = 0; i < self->strip.n_curves; i++)
    if (fw_quantity_known (self->solved.mech, self->strip.curves[i]))
      self->strip.curves[kept++] = self->strip.curves[i];
  self->strip.n_curves = kept;
}

/* The angles of the first panels; the left ones move as the right ones do, as a rule. */
static void
session_choose_curves (FwSession *self)
{
  self->strip.n_curves = 0;
  for (int i = 0; i < self->solved.mech->n_members && self->strip.n_curves < FIRST_CURVES; i++)
    if (!self->solved.mech->members[i].left)
      self->strip.curves[self->strip.n_curves++] = (FwQuantity) { .kind = FW_Q_ANGLE, .index = i };
}

/* Takes a mechanism over and solves everything. `kept`: see fw_worker_set_design (). */
static void
session_take_mechanism (FwSession *self, FwMechanism *mech, int kept)
{
  fw_session_mind_trouble (self);
  fw_session_solve (self, mech);
  fw_session_place_real (self, TRUE);
  fw_session_place_ghosts (self);
  fw_session_rest_soon (self);
  fw_session_find_trouble_again (self);
  self->has_picked = self->has_picked && part_exists (mech, self->picked);
  session_drop_lost_curves (self);

  guint params_before = self->params->len;
  session_list_params (self, mech->design);
  fw_worker_set_design (self->worker, mech->design, (int) self->params->len, self->solved.troubles.n,
                        params_before == self->params->len ? kept : -1);
  fw_swing_job_set_mechanism (self->swing, mech);
}

/* The mechanism of a document; NULL with a message. */
static FwMechanism *
session_build (FwSession *self, const FwDocument *doc)
{
  FwMechanism *mech = NULL;
  FwFault fault = { 0 };
  FwStatus status = fw_mechanism_build (fw_document_design (doc), &mech, &fault);
  if (status == FW_OK)
    return mech;
  g_autofree char *words = fw_words_fault (fw_document_design (doc), status, &fault);
  fw_session_say (self, "%s", words);
  return NULL;
}

void
fw_session_refresh (FwSession *self, int kept)
{
  FwMechanism *mech = session_build (self, self->doc);
  if (mech == NULL)
    return;
  session_take_mechanism (self, mech, kept);
  fw_session_emit (self, FW_SESSION_DESIGN);
}

/* ---- Document ---- */

void
fw_session_set_document (FwSession *self, FwDocument *doc, const char *path)
{
  g_return_if_fail (FW_IS_SESSION (self) && doc != NULL);
  FwMechanism *mech = session_build (self, doc);
  if (mech == NULL)
    {
      fw_document_free (doc);
      return;
    }
  fw_document_free (self->doc);
  self->doc = doc;
  g_clear_pointer (&self->wishes, fw_wishes_free); /* of the document before */
  fw_session_set_path (self, path);
  self->crank = 0;
  self->strip.crank = 0;
  self->dragging = FALSE;
  self->has_picked = FALSE;
  self->strip.picked_trouble = -1;
  self->minds_trouble = FALSE;
  for (int slot = 0; slot < FW_GHOSTS; slot++)
    fw_ghost_set_put (self->ghosts, (FwGhostSlot) slot, NULL, NULL, 0);
  fw_session_clear_built (self);
  self->real.photo = NULL;
  session_take_mechanism (self, mech, -1);
  session_choose_curves (self);
  fw_session_emit (self, FW_SESSION_DESIGN);
  fw_session_emit (self, FW_SESSION_PICKED);
}

FwDocument *
fw_session_document (FwSession *self)
{
  return self->doc;
}

const char *
fw_session_path (FwSession *self)
{
  return self->path;
}

void
fw_session_set_path (FwSession *self, const char *path)
{
  char *copy = g_strdup (path);
  g_free (self->path);
  self->path = copy;
}

const FwScene *
fw_session_scene (FwSession *self)
{
  return &self->solved.scene;
}

double
fw_session_crank (FwSession *self)
{
  return self->crank;
}

void
fw_session_set_crank (FwSession *self, double crank)
{
  if (self->doc == NULL || !isfinite (crank))
    return;
  crank -= 2 * G_PI * floor (crank / (2 * G_PI));
  if (crank >= 2 * G_PI) /* a tiny negative angle rounds up to the whole turn */
    crank = 0;
  if (crank == self->crank)
    return;
  self->crank = crank;
  self->strip.crank = crank;
  fw_solved_turn_to (&self->solved, crank);
  fw_session_place_real (self, FALSE);
  fw_ghost_set_turn_to (self->ghosts, crank);
  fw_session_place_ghosts (self);
  fw_session_emit (self, FW_SESSION_POSE);
}

/* ---- Edits ---- */

static int
session_param_index (FwSession *self, FwParam param)
{
  for (guint i = 0; i < self->params->len; i++)
    if (fw_param_equal (g_array_index (self->params, FwParam, i), param))
      return (int) i;
  return -1;
}

gboolean
fw_session_change (FwSession *self, const FwChange *changes, int n, const char *label, const char *merge_key)
{
  g_return_val_if_fail (self->doc != NULL, FALSE);
  g_autoptr (GError) error = NULL;
  guint64 before = fw_document_serial (self->doc);

  if (!fw_document_change (self->doc, changes, n, label, merge_key, &error))
    {
      fw_session_say (self, "%s", error->message);
      return FALSE;
    }
  if (fw_document_serial (self->doc) != before)
    fw_session_refresh (self, n == 1 ? session_param_index (self, changes[0].param) : -1);
  return TRUE;
}

void
fw_session_end_merge (FwSession *self)
{
  if (self->doc != NULL)
    fw_document_end_merge (self->doc);
}

void
fw_session_undo (FwSession *self)
{
  if (self->doc == NULL || fw_document_undo_label (self->doc) == NULL)
    return;
  g_autofree char *label = g_strdup (fw_document_undo_label (self->doc));
  if (!fw_document_undo (self->doc))
    return;
  fw_session_refresh (self, -1);
  /* Translators: %s is what was taken back, e.g. "Length of inrod" */
  fw_session_say (self, _("Undone: %s"), label);
}

void
fw_session_redo (FwSession *self)
{
  if (self->doc == NULL || fw_document_redo_label (self->doc) == NULL)
    return;
  g_autofree char *label = g_strdup (fw_document_redo_label (self->doc));
  if (!fw_document_redo (self->doc))
    return;
  fw_session_refresh (self, -1);
  /* Translators: %s is what was done again, e.g. "Length of inrod" */
  fw_session_say (self, _("Redone: %s"), label);
}

void
fw_session_set_dragging (FwSession *self, gboolean dragging)
{
  if (self->dragging == dragging)
    return;
  self->dragging = dragging;
  /* The arrows' scale holds still too. */
  self->solved.arrow_N = dragging && self->solved.mech != NULL ? fw_arrow_peak (&self->solved.scene) : 0;
  self->solved.scene.arrow_N = self->solved.arrow_N;
  if (!dragging)
    fw_session_rest_soon (self);
  fw_session_emit (self, FW_SESSION_DISPLAY); /* the scale may move again */
}

gboolean
fw_session_dragging (FwSession *self)
{
  return self->dragging;
}

const FwParam *
fw_session_params (FwSession *self, int *n)
{
  *n = (int) self->params->len;
  return (const FwParam *) self->params->data;
}

/* ---- What is picked ---- */

const FwPart *
fw_session_picked (FwSession *self)
{
  return self->has_picked ? &self->picked : NULL;
}

void
fw_session_pick (FwSession *self, const FwPart *part)
{
  self->minds_trouble = FALSE;
  if (part == NULL && !self->has_picked && self->strip.picked_trouble < 0)
    return;
  self->has_picked = part != NULL;
  if (part != NULL)
    self->picked = *part;
  self->strip.picked_trouble = -1;
  fw_session_emit (self, FW_SESSION_PICKED);
}

int
fw_session_picked_trouble (FwSession *self)
{
  return self->strip.picked_trouble;
}

void
fw_session_pick_trouble (FwSession *self, int trouble)
{
  if (trouble < 0 || trouble >= self->solved.troubles.n)
    {
      if (self->strip.picked_trouble < 0)
        return;
      self->strip.picked_trouble = -1;
      fw_session_emit (self, FW_SESSION_PICKED);
      return;
    }
  self->strip.picked_trouble = trouble;
  self->picked = self->solved.troubles.items[trouble].part;
  self->has_picked = TRUE;
  fw_session_set_crank (self, self->solved.troubles.items[trouble].worst);
  fw_session_emit (self, FW_SESSION_PICKED);
}

void
fw_session_go_to (FwSession *self, double crank, FwPart part)
{
  fw_session_set_crank (self, crank);
  fw_session_pick (self, &part);
}

/* ---- Display ---- */

/* They are solved only where they are seen. */
static void
session_want_bearings (FwSession *self)
{
  gboolean wanted = (self->show & FW_SHOW_FORCES) != 0;
  for (int i = 0; i < self->strip.n_curves; i++)
    wanted = wanted || self->strip.curves[i].kind == FW_Q_BEARING;
  self->solved.bearings = wanted;
  if (wanted)
    fw_solved_find_bearings (&self->solved);
}

void
fw_session_find_bearings (FwSession *self)
{
  fw_solved_find_bearings (&self->solved);
}

const FwStrength *
fw_session_strength (FwSession *self)
{
  return self->solved.known ? self->solved.whole->strength : NULL;
}

gboolean
fw_session_turn_is_known (FwSession *self)
{
  return self->solved.known;
}

guint
fw_session_show (FwSession *self)
{
  return self->show;
}

void
fw_session_set_show (FwSession *self, guint show)
{
  if (self->show == show)
    return;
  self->show = show;
  fw_solved_show_swing (&self->solved, (show & FW_SHOW_SWING) != 0);
  fw_session_place_real (self, FALSE);
  session_want_bearings (self);
  fw_session_emit (self, FW_SESSION_DISPLAY);
}

FwLengths
fw_session_lengths (FwSession *self)
{
  return self->lengths;
}

void
fw_session_set_lengths (FwSession *self, FwLengths lengths)
{
  if (self->lengths == lengths)
    return;
  self->lengths = lengths;
  self->strip.lengths = lengths;
  fw_session_emit (self, FW_SESSION_DISPLAY);
}

FwStripState *
fw_session_strip (FwSession *self)
{
  return &self->strip;
}

void
fw_session_set_curves (FwSession *self, const FwQuantity *curves, int n)
{
  self->strip.n_curves = CLAMP (n, 0, FW_STRIP_CURVES);
  memmove (self->strip.curves, curves, (gsize) self->strip.n_curves * sizeof *curves);
  session_want_bearings (self);
  fw_session_emit (self, FW_SESSION_DISPLAY);
}

void
fw_session_say (FwSession *self, const char *format, ...)
{
  va_list args;
  va_start (args, format);
  g_autofree char *line = g_strdup_vprintf (format, args);
  va_end (args);
  g_signal_emit (self, signals[FW_SESSION_MESSAGE], 0, line);
}

/* ---- Object ---- */

static void
session_finalize (GObject *object)
{
  FwSession *self = FW_SESSION (object);

  g_clear_handle_id (&self->rest, g_source_remove);
  fw_worker_free (self->worker);
  fw_whole_job_free (self->wholes);
  fw_swing_job_free (self->swing);
  fw_worn_job_free (self->worn);
  fw_session_clear_built (self);
  fw_ghost_set_free (self->ghosts);
  g_clear_pointer (&self->wishes, fw_wishes_free);
  fw_document_free (self->doc);
  fw_solved_clear (&self->solved);
  g_free (self->path);
  g_array_unref (self->params);
  G_OBJECT_CLASS (fw_session_parent_class)->finalize (object);
}

static guint
new_signal (FwSessionClass *class, const char *name, guint n_args, GType arg)
{
  return g_signal_new (name, G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE,
                       n_args, arg);
}

static void
fw_session_class_init (FwSessionClass *class)
{
  G_OBJECT_CLASS (class)->finalize = session_finalize;
  signals[FW_SESSION_DESIGN] = new_signal (class, "design-changed", 0, G_TYPE_NONE);
  signals[FW_SESSION_POSE] = new_signal (class, "pose-changed", 0, G_TYPE_NONE);
  signals[FW_SESSION_PICKED] = new_signal (class, "picked-changed", 0, G_TYPE_NONE);
  signals[FW_SESSION_DISPLAY] = new_signal (class, "display-changed", 0, G_TYPE_NONE);
  signals[FW_SESSION_BANDS] = new_signal (class, "bands-changed", 1, G_TYPE_UINT);
  signals[FW_SESSION_REMEDIES] = new_signal (class, "remedies-changed", 1, G_TYPE_UINT);
  signals[FW_SESSION_BOUNCES] = new_signal (class, "bounces-changed", 0, G_TYPE_NONE);
  signals[FW_SESSION_GHOSTS] = new_signal (class, "ghosts-changed", 0, G_TYPE_NONE);
  signals[FW_SESSION_MESSAGE] = new_signal (class, "message", 1, G_TYPE_STRING);
}

static void
fw_session_init (FwSession *self)
{
  self->params = g_array_new (FALSE, TRUE, sizeof (FwParam));
  self->worker = fw_worker_new (fw_session_bands_arrived, fw_session_remedies_arrived, self);
  self->wholes = fw_whole_job_new (fw_session_on_whole, self);
  self->swing = fw_swing_job_new (fw_session_on_swing, self);
  self->worn = fw_worn_job_new (fw_session_on_worn, self);
  self->ghosts = fw_ghost_set_new ();
  self->show = FIRST_SHOW;
  self->solved.show_swing = TRUE;
  self->strip.picked_trouble = -1;
}

FwSession *
fw_session_new (void)
{
  return g_object_new (FW_TYPE_SESSION, NULL);
}
