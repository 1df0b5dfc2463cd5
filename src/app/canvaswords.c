#include "app/canvaswords.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/turnnote.h"
#include "doc/words.h"

#define SENTENCES 3

const char *
fw_canvas_view_name (FwView view)
{
  switch (view)
    {
    case FW_VIEW_FRONT: return _("Front view");
    case FW_VIEW_SIDE: return _("Side view");
    default: return _("Three-quarter view");
    }
}

/* Whether a trouble's interval holds a crank angle, rad. */
static gboolean
trouble_is_at (const FwTrouble *trouble, double crank)
{
  double past = fmod (crank - trouble->from, 2 * G_PI);
  if (past < 0)
    past += 2 * G_PI;
  return past <= trouble->to - trouble->from;
}

/* Tilt is positive towards +h: forwards with the crank across, to the right with it along. */
static void
add_tilt (GString *words, const FwScene *scene, FwLengths lengths)
{
  double tilt = scene->pose->body.tilt * 180 / G_PI;
  gboolean across = scene->mechanism->design->crank.runs == FW_RUNS_ACROSS;
  const char *text = across ? tilt > 0 ? _("The body leans %s forwards.") : _("The body leans %s backwards.")
                     : tilt > 0 ? _("The body leans %s to its right.") : _("The body leans %s to its left.");

  if (fabs (tilt) < 0.05)
    return;
  char *angle = fw_units_format (fabs (tilt), FW_UNIT_DEG, lengths, 1);
  g_string_append_c (words, ' ');
  g_string_append_printf (words, text, angle);
  g_free (angle);
}

static void
add_pose (GString *words, FwSession *session, const FwScene *scene)
{
  FwLengths lengths = fw_session_lengths (session);
  char *crank = fw_units_format (fw_session_crank (session) * 180 / G_PI, FW_UNIT_DEG, lengths, 1);
  char *height = fw_units_format (scene->pose->body.z_mm, FW_UNIT_MM, lengths, -1);

  g_string_append_printf (words, _("Crank at %s, body %s above the crank."), crank, height);
  g_free (crank);
  g_free (height);
  add_tilt (words, scene, lengths);
}

static void
add_angles (GString *words, FwSession *session, const FwScene *scene)
{
  const FwMechanism *mechanism = scene->mechanism;

  for (int i = 0; i < mechanism->n_members && i < 12; i++)
    {
      if (scene->pose->members[i].closure != FW_CLOSES)
        continue;
      double angle = fw_pose_angle (scene->pose, mechanism, i) * 180 / G_PI;
      char *text = fw_units_format (angle, FW_UNIT_DEG, fw_session_lengths (session), -1);

      g_string_append_c (words, ' ');
      /* Translators: a panel's name and its angle. */
      g_string_append_printf (words, _("%s at %s."), mechanism->members[i].name, text);
      g_free (text);
    }
}

static void
add_trouble (GString *words, FwSession *session, const FwScene *scene)
{
  int said = 0, here = 0;

  for (int i = 0; scene->troubles != NULL && i < scene->troubles->n; i++)
    {
      const FwTrouble *trouble = &scene->troubles->items[i];
      if (!trouble_is_at (trouble, scene->pose->crank))
        continue;
      here++;
      if (said == SENTENCES)
        continue;
      said++;
      char *sentence = fw_words_trouble (scene->mechanism, trouble, fw_session_lengths (session));
      g_string_append_c (words, ' ');
      g_string_append (words, sentence);
      g_free (sentence);
    }
  g_string_append_c (words, ' ');
  if (here == 0)
    g_string_append (words, _("No trouble at this angle."));
  else if (here > said)
    g_string_append_printf (words, ngettext ("And %d more trouble here.", "And %d more troubles here.", here - said),
                            here - said);
}

char *
fw_canvas_description (FwSession *session)
{
  const FwScene *scene = fw_session_scene (session);
  GString *words = g_string_new (NULL);

  if (scene == NULL || scene->mechanism == NULL || scene->pose == NULL)
    {
      g_string_append (words, _("No design is open."));
      return g_string_free (words, FALSE);
    }
  add_pose (words, session, scene);
  add_angles (words, session, scene);
  if (fw_session_turn_is_known (session))
    add_trouble (words, session, scene);
  else
    g_string_append_printf (words, " %s", fw_turn_note_words ());
  return g_string_free (words, FALSE);
}
