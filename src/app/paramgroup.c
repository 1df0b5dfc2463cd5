#include "app/paramgroup.h"

#include "app/parttools.h"
#include "app/widgetstyle.h"

struct FwParamGroup
{
  FwSession *session; /* borrowed: the inspector's */
  int first, n;
  FwPartKey key;
  FwSavedValue saved;
  gpointer saved_data;
  GCallback opened;
  gpointer opened_data;

  GtkWidget *expander, *box; /* NULL until made */
  GtkWidget **rows;   /* n; NULL until made */
  GtkWidget *tools;   /* choices, name, removal; NULL until made */
  gboolean open;      /* as the user left it */
  gboolean filtering; /* opened for the sake of a search */
};

/* ---- Keys ---- */

FwPartKey
fw_part_key_of_param (FwParam param)
{
  switch (fw_param_owner (param))
    {
    case FW_OWNER_CRANK: return (FwPartKey) { 'c', 0 };
    case FW_OWNER_THROW: return (FwPartKey) { 't', param.index };
    case FW_OWNER_WEIGHT: return (FwPartKey) { 'w', param.index };
    case FW_OWNER_BODY: return (FwPartKey) { 'b', 0 };
    case FW_OWNER_LUMP: return (FwPartKey) { 'l', param.index };
    case FW_OWNER_PANEL: return (FwPartKey) { 'p', param.index };
    case FW_OWNER_ROD: return (FwPartKey) { 'r', param.index };
    case FW_OWNER_SPRING: return (FwPartKey) { 'e', param.index };
    case FW_OWNER_DRIVE: return (FwPartKey) { 'd', 0 };
    case FW_OWNER_BASE: break;
    }
  return (FwPartKey) { 's', 0 };
}

FwPartKey
fw_part_key_of_part (const FwMechanism *mechanism, FwPart part)
{
  switch (part.kind)
    {
    case FW_PART_BODY: return (FwPartKey) { 'b', 0 };
    case FW_PART_MEMBER: return (FwPartKey) { 'p', mechanism->members[part.index].panel };
    case FW_PART_LINK: return (FwPartKey) { 'r', mechanism->links[part.index].rod };
    case FW_PART_CRANK: return (FwPartKey) { 'c', 0 };
    case FW_PART_SPRING: return (FwPartKey) { 'e', mechanism->coils[part.index].spring };
    case FW_PART_WEIGHT: return (FwPartKey) { 'w', part.index };
    default: return (FwPartKey) { 's', 0 };
    }
}

gboolean
fw_part_key_equal (FwPartKey a, FwPartKey b)
{
  return a.kind == b.kind && a.index == b.index;
}

/* ---- Rows ---- */

static void
group_make_row (FwParamGroup *group, int i)
{
  GtkWidget *before = NULL;

  if (group->rows[i] != NULL)
    return;
  for (int k = i - 1; k >= 0 && before == NULL; k--)
    before = group->rows[k];
  group->rows[i] = fw_param_row_new (group->session, group->first + i, group->saved, group->saved_data);
  gtk_box_insert_child_after (GTK_BOX (group->box), group->rows[i], before);
}

static void
group_show_all (FwParamGroup *group)
{
  for (int i = 0; i < group->n; i++)
    {
      group_make_row (group, i);
      gtk_widget_set_visible (group->rows[i], TRUE);
    }
  if (group->tools == NULL)
    {
      group->tools = fw_part_tools_new (group->session, group->key);
      gtk_box_append (GTK_BOX (group->box), group->tools);
    }
  gtk_widget_set_visible (group->tools, TRUE);
}

static void
on_expanded (GtkExpander *expander, GParamSpec *spec, FwParamGroup *group)
{
  gboolean expanded = gtk_expander_get_expanded (expander);

  if (group->filtering)
    return;
  group->open = expanded;
  if (expanded)
    group_show_all (group);
}

void
fw_param_group_open (FwParamGroup *group)
{
  group->open = TRUE;
  if (!group->filtering)
    gtk_expander_set_expanded (GTK_EXPANDER (group->expander), TRUE);
}

void
fw_param_group_set_picked (FwParamGroup *group, gboolean picked)
{
  if (group->expander == NULL)
    return;
  if (picked)
    gtk_widget_add_css_class (group->expander, "picked");
  else
    gtk_widget_remove_css_class (group->expander, "picked");
}

static int
group_show_wanted (FwParamGroup *group, const gboolean *wanted, int room)
{
  int shown = 0;

  if (group->tools != NULL) /* a search finds numbers */
    gtk_widget_set_visible (group->tools, FALSE);
  for (int i = 0; i < group->n; i++)
    {
      gboolean show = wanted[i] && shown < room;
      if (show)
        group_make_row (group, i);
      if (group->rows[i] != NULL)
        gtk_widget_set_visible (group->rows[i], show);
      shown += show;
    }
  return shown;
}

int
fw_param_group_filter (FwParamGroup *group, const gboolean *wanted, int room)
{
  int shown = group->n;

  if (group->expander == NULL)
    return 0;
  group->filtering = TRUE;
  if (wanted != NULL)
    shown = group_show_wanted (group, wanted, room);
  else if (group->open)
    group_show_all (group);
  gtk_widget_set_visible (group->expander, shown > 0);
  gtk_expander_set_expanded (GTK_EXPANDER (group->expander), wanted != NULL ? shown > 0 : group->open);
  group->filtering = wanted != NULL;
  return shown;
}

FwParamRow *
fw_param_group_row (FwParamGroup *group, int index)
{
  int i = index - group->first;

  if (i < 0 || i >= group->n || group->rows[i] == NULL || !gtk_widget_get_mapped (group->rows[i]))
    return NULL;
  return FW_PARAM_ROW (group->rows[i]);
}

FwParamRow *
fw_param_group_first_shown (FwParamGroup *group)
{
  gboolean open = group->expander != NULL && gtk_widget_get_visible (group->expander)
                  && gtk_expander_get_expanded (GTK_EXPANDER (group->expander));

  for (int i = 0; open && i < group->n; i++)
    if (group->rows[i] != NULL && gtk_widget_get_visible (group->rows[i]))
      return FW_PARAM_ROW (group->rows[i]);
  return NULL;
}

void
fw_param_group_foreach (FwParamGroup *group, void (*f) (FwParamRow *row, gpointer data), gpointer data)
{
  for (int i = 0; i < group->n; i++)
    if (group->rows[i] != NULL)
      f (FW_PARAM_ROW (group->rows[i]), data);
}

/* ---- Group ---- */

FwParamGroup *
fw_param_group_new (FwSession *session, int first, int n, FwSavedValue saved, gpointer saved_data,
                    GCallback opened, gpointer opened_data)
{
  FwParamGroup *group = g_new0 (FwParamGroup, 1);
  int n_params;

  *group = (FwParamGroup) { .session = session, .first = first, .n = n, .saved = saved, .saved_data = saved_data,
                            .opened = opened, .opened_data = opened_data,
                            .key = fw_part_key_of_param (fw_session_params (session, &n_params)[first]),
                            .rows = g_new0 (GtkWidget *, n) };
  return group;
}

GtkWidget *
fw_param_group_make (FwParamGroup *group)
{
  int n_params;
  FwParam param = fw_session_params (group->session, &n_params)[group->first];
  char *title = fw_param_group (fw_document_design (fw_session_document (group->session)), param);

  group->box = g_object_new (GTK_TYPE_BOX, "orientation", GTK_ORIENTATION_VERTICAL, "spacing", 6, "accessible-role",
                             GTK_ACCESSIBLE_ROLE_GROUP, NULL);
  fw_widget_describe (group->box, title, NULL); /* of which part a "Material" is */
  group->expander = g_object_ref_sink (gtk_expander_new (title));
  gtk_expander_set_child (GTK_EXPANDER (group->expander), group->box);
  gtk_widget_add_css_class (group->expander, "param-group");
  fw_widget_describe (group->expander, title, NULL);
  g_signal_connect (group->expander, "notify::expanded", G_CALLBACK (on_expanded), group);
  g_signal_connect_swapped (group->expander, "notify::expanded", group->opened, group->opened_data);
  g_free (title);
  return group->expander;
}

void
fw_param_group_free (FwParamGroup *group)
{
  for (int i = 0; i < group->n; i++)
    if (group->rows[i] != NULL)
      fw_param_row_let_go (FW_PARAM_ROW (group->rows[i]));
  if (group->expander != NULL)
    {
      g_signal_handlers_disconnect_by_data (group->expander, group);
      if (gtk_widget_get_parent (group->expander) != NULL)
        gtk_box_remove (GTK_BOX (gtk_widget_get_parent (group->expander)), group->expander);
    }
  g_clear_object (&group->expander);
  g_free (group->rows);
  g_free (group);
}

GtkWidget *
fw_param_group_widget (FwParamGroup *group)
{
  return group->expander;
}

FwPartKey
fw_param_group_key (FwParamGroup *group)
{
  return group->key;
}

gboolean
fw_param_group_is_open (FwParamGroup *group)
{
  return group->open;
}

int
fw_param_group_size (FwParamGroup *group)
{
  return group->n;
}
