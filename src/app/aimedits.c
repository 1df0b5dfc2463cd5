#include "app/aimedits.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/sessionprivate.h"
#include "doc/versions.h"

/* ---- Wishes ---- */

const FwWishes *
fw_session_wishes (FwSession *self)
{
  guint64 serial = self->doc != NULL ? fw_document_serial (self->doc) : 0;
  if (self->wishes != NULL && self->wishes_of == self->doc && self->wishes_serial == serial)
    return self->wishes;
  g_clear_pointer (&self->wishes, fw_wishes_free);
  self->wishes = self->doc != NULL ? fw_document_wishes (self->doc) : fw_wishes_new ();
  self->wishes_of = self->doc;
  self->wishes_serial = serial;
  return self->wishes;
}

/* What is said where an edit was refused; else all is solved anew. */
static gboolean
session_edited (FwSession *self, gboolean good, guint64 before, const GError *error)
{
  if (!good)
    fw_session_say (self, "%s", error != NULL ? error->message : _ ("This could not be done."));
  else if (fw_document_serial (self->doc) != before)
    fw_session_refresh (self, -1);
  return good;
}

gboolean
fw_session_set_wishes (FwSession *self, FwWishes *wishes, const char *label)
{
  g_autoptr (GError) error = NULL;
  guint64 before = fw_document_serial (self->doc);
  fw_document_end_merge (self->doc);
  gboolean good = fw_document_set_wishes (self->doc, wishes, label, &error);
  fw_wishes_free (wishes);
  return session_edited (self, good, before, error);
}

static int
free_index (const FwWishes *wishes, const char *path)
{
  for (int i = 0; i < wishes->n_free; i++)
    if (g_str_equal (wishes->free[i].number, path))
      return i;
  return -1;
}

gboolean
fw_session_number_is_free (FwSession *self, FwParam param)
{
  g_autofree char *path = fw_param_path (fw_document_design (self->doc), param);
  return path != NULL && free_index (fw_session_wishes (self), path) >= 0;
}

void
fw_session_free_number (FwSession *self, FwParam param, gboolean free)
{
  const FwDesign *design = fw_document_design (self->doc);
  g_autofree char *path = fw_param_path (design, param);
  g_autofree char *name = fw_param_label (design, param);
  int at = free_index (fw_session_wishes (self), path);
  if ((at >= 0) == free)
    return;
  FwWishes *wishes = fw_wishes_copy (fw_session_wishes (self));
  if (free)
    fw_wishes_add_free (wishes, (FwFree) { .number = g_strdup (path), .least = NAN, .most = NAN });
  else
    fw_wishes_remove_free (wishes, at);
  /* Translators: a step of undo; %s is the name of a number */
  g_autofree char *label = g_strdup_printf (free ? _ ("%s may change") : _ ("%s stays"), name);
  fw_session_set_wishes (self, wishes, label);
}

gboolean
fw_session_check_wishes (FwSession *self, const FwWishes *wishes, GError **error)
{
  const FwDesign *design = fw_document_design (self->doc);
  FwWishes *all = fw_wishes_copy (wishes);
  if (all->n_free == 0 && self->params->len > 0)
    fw_wishes_add_free (all, (FwFree) { .number = fw_param_path (design, g_array_index (self->params, FwParam, 0)),
                                        .least = NAN, .most = NAN });
  gboolean good = fw_wishes_check (all, design, error);
  fw_wishes_free (all);
  return good;
}

/* ---- Versions ---- */

gboolean
fw_session_keep_version (FwSession *self, const char *name)
{
  g_autoptr (GError) error = NULL;
  guint64 before = fw_document_serial (self->doc);
  return session_edited (self, fw_versions_keep (self->doc, name, &error), before, error);
}

gboolean
fw_session_rename_version (FwSession *self, int version, const char *name)
{
  g_autoptr (GError) error = NULL;
  guint64 before = fw_document_serial (self->doc);
  return session_edited (self, fw_versions_rename (self->doc, version, name, &error), before, error);
}

gboolean
fw_session_remove_version (FwSession *self, int version)
{
  g_autoptr (GError) error = NULL;
  guint64 before = fw_document_serial (self->doc);
  return session_edited (self, fw_versions_remove (self->doc, version, &error), before, error);
}

gboolean
fw_session_bring_back (FwSession *self, int version)
{
  g_autoptr (GError) error = NULL;
  guint64 before = fw_document_serial (self->doc);
  return session_edited (self, fw_versions_bring_back (self->doc, version, &error), before, error);
}
