/* Sentences whose figures keep their units. */
#pragma once

#include <pango/pango.h>

G_BEGIN_DECLS

/* Attributes under which no line ends between a figure and its unit, nor within "3 1/2 in"; free with
 * pango_attr_list_unref. The words themselves stay as they are, for whoever reads or copies them. */
PangoAttrList *fw_unbroken_figures (const char *text);

G_END_DECLS
