#include "shop/kitlayout.h"

#include <string.h>

#include "shop/logink.h"

#define A5_WIDTH 419.53
#define MARGIN 36.0
#define HEADING 17.0

void
fw_kit_flow_open (FwKitFlow *flow, FwKit *kit)
{
  double unit = CLAMP (kit->width / A5_WIDTH, 1, 1.22);
  *flow = (FwKitFlow){ .kit = kit,
                       .unit = unit,
                       .left = MARGIN * unit,
                       .right = kit->width - MARGIN * unit,
                       .top = MARGIN * unit,
                       .foot = kit->height - (MARGIN + 14) * unit };
}

double
fw_kit_flow_width (const FwKitFlow *flow)
{
  return flow->right - flow->left;
}

static void
clear_item (gpointer data)
{
  g_free (((FwKitItem *)data)->text);
}

FwKitItem *
fw_kit_put (FwKitFlow *flow, FwKitKind kind, double x, double y, double width, double height)
{
  FwKitItem item = { .kind = kind, .box = { x, y, width, height } };
  g_array_append_val (flow->page, item);
  return &g_array_index (flow->page, FwKitItem, flow->page->len - 1);
}

void
fw_kit_flow_page (FwKitFlow *flow, const char *heading)
{
  FwKit *kit = flow->kit;
  flow->page = g_array_new (FALSE, FALSE, sizeof (FwKitItem));
  g_array_set_clear_func (flow->page, clear_item);
  g_ptr_array_add (kit->pages, flow->page);
  flow->y = flow->top;
  if (heading == NULL)
    return;
  flow->y += fw_kit_text_at (flow, heading, flow->left, flow->y, fw_kit_flow_width (flow), HEADING, TRUE, FALSE);
  flow->y += 5 * flow->unit;
  fw_kit_put (flow, FW_KIT_RULE, flow->left, flow->y, fw_kit_flow_width (flow), 0);
  flow->y += 14 * flow->unit;
  /* The foot: title and page. */
  double foot = kit->height - 30 * flow->unit;
  g_autofree char *number = g_strdup_printf ("%u", kit->pages->len);
  fw_kit_text_at (flow, kit->title, flow->left, foot, 0, 7.5, FALSE, TRUE);
  fw_kit_text_at (flow, number, flow->right, foot, 0, 7.5, FALSE, TRUE);
  g_array_index (flow->page, FwKitItem, flow->page->len - 1).align = 1;
}

void
fw_kit_flow_need (FwKitFlow *flow, double height, const char *heading)
{
  if (flow->y + height > flow->foot)
    fw_kit_flow_page (flow, heading);
}

double
fw_kit_text_height (const FwKitFlow *flow, const char *text, double width, double size, gboolean bold)
{
  const FwInk ink = { .size = size * flow->unit, .bold = bold, .width = width };
  return fw_ink_height (text, &ink);
}

double
fw_kit_text_at (FwKitFlow *flow, const char *text, double x, double y, double width, double size,
                gboolean bold, gboolean faint)
{
  double height = fw_kit_text_height (flow, text, width, size, bold);
  FwKitItem *item = fw_kit_put (flow, FW_KIT_TEXT, x, y, width, height);
  item->text = g_strdup (text);
  item->size = size * flow->unit;
  item->bold = bold;
  item->faint = faint;
  return height;
}

void
fw_kit_paragraph (FwKitFlow *flow, const char *text, double size, gboolean bold, const char *heading)
{
  fw_kit_flow_need (flow, fw_kit_text_height (flow, text, fw_kit_flow_width (flow), size, bold), heading);
  flow->y += fw_kit_text_at (flow, text, flow->left, flow->y, fw_kit_flow_width (flow), size, bold, FALSE);
  flow->y += 6 * flow->unit;
}

void
fw_kit_subheading (FwKitFlow *flow, const char *text, const char *heading)
{
  fw_kit_flow_need (flow, 44 * flow->unit, heading);
  flow->y += 4 * flow->unit;
  flow->y += fw_kit_text_at (flow, text, flow->left, flow->y, fw_kit_flow_width (flow), 10.5, TRUE, FALSE);
  flow->y += 5 * flow->unit;
}

void
fw_kit_list (FwKitFlow *flow, char *const *lines, gboolean numbered, const char *heading)
{
  double indent = (numbered ? 20 : 12) * flow->unit, width = fw_kit_flow_width (flow) - indent;
  for (int i = 0; lines != NULL && lines[i] != NULL; i++)
    {
      g_autofree char *mark = numbered ? g_strdup_printf ("%d", i + 1) : g_strdup ("\u2022");
      fw_kit_flow_need (flow, fw_kit_text_height (flow, lines[i], width, 8.5, FALSE), heading);
      fw_kit_text_at (flow, mark, flow->left + (numbered ? 13 * flow->unit : 0), flow->y, 0, 8.5, numbered, TRUE);
      if (numbered)
        g_array_index (flow->page, FwKitItem, flow->page->len - 1).align = 1;
      flow->y += fw_kit_text_at (flow, lines[i], flow->left + indent, flow->y, width, 8.5, FALSE, FALSE);
      flow->y += 3.5 * flow->unit;
    }
  flow->y += 4 * flow->unit;
}

void
fw_kit_badge (FwKitFlow *flow, const char *text, double x, double y, double size)
{
  FwKitItem *item = fw_kit_put (flow, FW_KIT_BADGE, x, y, 2 * size * flow->unit, 2 * size * flow->unit);
  item->text = g_strdup (text);
  item->size = size * flow->unit * (strlen (text) > 1 ? 0.85 : 1.05);
  item->bold = TRUE;
}
