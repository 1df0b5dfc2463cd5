#include "app/tolerancesession.h"

#include <stdlib.h>

#include "app/sessionprivate.h"
#include "doc/spread.h"

void
fw_session_place_real (FwSession *self, gboolean design_is_new)
{
  FwScene *scene = &self->solved.scene;

  if (design_is_new)
    self->real.n_spreads = 0;
  gboolean shown = (self->show & FW_SHOW_SPREAD) != 0;
  scene->spreads = shown ? self->real.spreads : NULL;
  scene->n_spreads = shown ? self->real.n_spreads : 0;
  scene->photo = self->real.photo;
  scene->built = self->real.built;
  scene->built_pose = self->real.built_pose;
  if (self->real.built != NULL)
    fw_pose_solve (self->real.built_pose, self->real.built, self->crank);
}

void
fw_session_take_spreads (FwSession *self, const FwSpreadBand *spreads, int n)
{
  gboolean seen = (self->show & FW_SHOW_SPREAD) != 0 && (n > 0 || self->real.n_spreads > 0);

  self->real.spreads = spreads;
  self->real.n_spreads = n;
  fw_session_place_real (self, FALSE);
  if (seen)
    fw_session_emit (self, FW_SESSION_DISPLAY);
}

/* An edit of the file that leaves the mechanism as it is; still all listeners look again. */
static gboolean
session_edited (FwSession *self, gboolean done, guint64 before, GError *error)
{
  if (!done)
    {
      fw_session_say (self, "%s", error->message);
      return FALSE;
    }
  if (fw_document_serial (self->doc) != before)
    fw_session_refresh (self, -1);
  return TRUE;
}

gboolean
fw_session_set_spread (FwSession *self, FwParam param, double spread)
{
  g_return_val_if_fail (self->doc != NULL, FALSE);
  g_autoptr (GError) error = NULL;
  guint64 before = fw_document_serial (self->doc);
  gboolean done = fw_spread_set (self->doc, param, spread, NULL, &error);
  return session_edited (self, done, before, error);
}

gboolean
fw_session_set_measurements (FwSession *self, const FwMeasuredRow *rows, int n)
{
  g_return_val_if_fail (self->doc != NULL, FALSE);
  g_autoptr (GError) error = NULL;
  guint64 before = fw_document_serial (self->doc);
  gboolean done = fw_measurements_set (self->doc, rows, n, NULL, &error);
  return session_edited (self, done, before, error);
}

void
fw_session_set_photo (FwSession *self, const FwPhoto *photo)
{
  self->real.photo = photo;
  fw_session_place_real (self, FALSE);
  if (self->solved.mech != NULL)
    fw_session_emit (self, FW_SESSION_DISPLAY);
}

void
fw_session_clear_built (FwSession *self)
{
  g_clear_pointer (&self->real.built_pose, free);
  g_clear_pointer (&self->real.built, fw_mechanism_free);
  fw_design_free (self->real.built_design);
  self->real.built_design = NULL;
}

void
fw_session_set_built (FwSession *self, const FwDesign *design)
{
  gboolean had = self->real.built != NULL;

  fw_session_clear_built (self);
  if (design != NULL)
    self->real.built_design = fw_design_copy (design);
  if (self->real.built_design != NULL
      && fw_mechanism_build (self->real.built_design, &self->real.built, NULL) == FW_OK)
    self->real.built_pose = fw_pose_new (self->real.built);
  if (self->real.built_pose == NULL)
    fw_session_clear_built (self);
  fw_session_place_real (self, FALSE);
  if (had || self->real.built != NULL)
    fw_session_emit (self, FW_SESSION_DISPLAY);
}
