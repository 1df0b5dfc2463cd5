#include "shop/template.h"

#include <glib/gi18n.h>

#include "doc/materials.h"
#include "shop/templatebuild.h"

FwTemplate *
fw_template_new (const FwMechanism *mechanism, const char *title, FwLengths lengths)
{
  g_autoptr (FwBuild) build = fw_build_new (mechanism);
  g_autoptr (FwMadeList) made = fw_made_list_new (mechanism, build);
  FwTemplate *tmpl = g_new0 (FwTemplate, 1);
  tmpl->title = g_strdup (title == NULL || *title == '\0' ? _ ("Untitled design") : title);
  tmpl->lengths = lengths;
  tmpl->parts = g_ptr_array_new_with_free_func ((GDestroyNotify)fw_cut_part_free);
  FwTemplateJob job = { mechanism, made, lengths, tmpl, g_ptr_array_new () };
  fw_template_panels (&job);
  fw_template_wedges (&job);
  fw_template_gauges (&job);
  fw_template_plate (&job);
  g_ptr_array_add (job.notes, NULL);
  tmpl->notes = (char **)g_ptr_array_free (job.notes, FALSE);
  return tmpl;
}

void
fw_template_free (FwTemplate *tmpl)
{
  if (tmpl == NULL)
    return;
  g_ptr_array_free (tmpl->parts, TRUE);
  g_strfreev (tmpl->notes);
  g_free (tmpl->title);
  g_free (tmpl);
}

char *
fw_cut_part_stock (const FwCutPart *part, FwLengths lengths)
{
  g_autofree char *thickness = fw_cut_length (part->thickness_mm, lengths);
  const char *material = fw_material_words (part->material);
  if (part->count == 1)
    /* Translators: what a part is cut from: material, thickness */
    return g_strdup_printf (_ ("%s, %s"), material, thickness);
  return g_strdup_printf (ngettext ("%s, %s, cut %d", "%s, %s, cut %d", (gulong)part->count),
                          material, thickness, part->count);
}
