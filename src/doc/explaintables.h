/* The tables behind doc/explain.h. Internal to this layer. */
#pragma once

#include "doc/explain.h"

G_BEGIN_DECLS

typedef struct
{
  const FwExplain *list;
  int n;
} FwExplainTable;

FwExplainTable fw_explain_table_crank (void);   /* crank and body */
FwExplainTable fw_explain_table_parts (void);   /* panels and rods */
FwExplainTable fw_explain_table_extras (void);
FwExplainTable fw_explain_table_motion (void);  /* motion and loads */
FwExplainTable fw_explain_table_trouble (void);
FwExplainTable fw_explain_table_making (void);  /* wishes and making */

G_END_DECLS
