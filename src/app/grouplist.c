#include "app/grouplist.h"

#include <glib/gi18n.h>

#define ALL 60     /* so many headings are made at once */
#define FIRST 12   /* of each kind, where there are more parts than that */
#define MORE 24    /* at a press */

struct FwGroupList
{
  GtkBox *box; /* borrowed */
  GPtrArray *groups;  /* FwParamGroup */
  GPtrArray *buttons; /* one a kind of which some have no heading; borrowed from the box */
};

static char
kind_of (FwParamGroup *group)
{
  return fw_param_group_key (group).kind;
}

int
fw_group_list_length (const FwGroupList *self)
{
  return (int) self->groups->len;
}

FwParamGroup *
fw_group_list_nth (const FwGroupList *self, int i)
{
  return self->groups->pdata[i];
}

FwParamGroup *
fw_group_list_find (const FwGroupList *self, FwPartKey key)
{
  for (guint i = 0; i < self->groups->len; i++)
    if (fw_part_key_equal (fw_param_group_key (self->groups->pdata[i]), key))
      return self->groups->pdata[i];
  return NULL;
}

/* ---- More of them ---- */

static int
count_left (const FwGroupList *self, char kind)
{
  int left = 0;
  for (guint i = 0; i < self->groups->len; i++)
    left += kind_of (self->groups->pdata[i]) == kind && fw_param_group_widget (self->groups->pdata[i]) == NULL;
  return left;
}

static void
button_tell (GtkWidget *button, int left)
{
  /* Translators: a button below the parts of one kind, such as panels: how many more of them there are. */
  g_autofree char *words = g_strdup_printf (ngettext ("%d more like these", "%d more like these", left), left);
  gtk_button_set_label (GTK_BUTTON (button), words);
}

static char
button_kind (GtkWidget *button)
{
  return (char) GPOINTER_TO_INT (g_object_get_data (G_OBJECT (button), "fw-kind"));
}

/* After some of them got their headings. */
static void
list_tell (FwGroupList *self, char kind)
{
  for (guint i = 0; i < self->buttons->len; i++)
    {
      GtkWidget *button = self->buttons->pdata[i];
      int left = button_kind (button) == kind ? count_left (self, kind) : -1;
      if (left > 0)
        button_tell (button, left);
      if (left != 0)
        continue;
      g_ptr_array_remove_index (self->buttons, i--);
      gtk_box_remove (self->box, button);
    }
}

static void
group_make (FwGroupList *self, guint i)
{
  GtkWidget *before = NULL;
  for (int k = (int) i - 1; k >= 0 && before == NULL; k--)
    before = fw_param_group_widget (self->groups->pdata[k]);
  gtk_box_insert_child_after (self->box, fw_param_group_make (self->groups->pdata[i]), before);
}

static void
on_more (GtkWidget *button, FwGroupList *self)
{
  FwParamGroup *first = NULL;
  char kind = button_kind (button);
  int made = 0;

  for (guint i = 0; i < self->groups->len && made < MORE; i++)
    {
      FwParamGroup *group = self->groups->pdata[i];
      if (kind_of (group) != kind || fw_param_group_widget (group) != NULL)
        continue;
      group_make (self, i);
      first = first != NULL ? first : group;
      made++;
    }
  if (first != NULL) /* the button may go: the keyboard goes on where it brought something */
    gtk_widget_grab_focus (fw_param_group_widget (first));
  list_tell (self, kind);
}

static void
add_button (FwGroupList *self, char kind, int left)
{
  GtkWidget *button = gtk_button_new ();
  gtk_widget_add_css_class (button, "flat");
  g_object_set_data (G_OBJECT (button), "fw-kind", GINT_TO_POINTER (kind));
  g_signal_connect (button, "clicked", G_CALLBACK (on_more), self);
  button_tell (button, left);
  gtk_box_append (self->box, button);
  g_ptr_array_add (self->buttons, button);
}

void
fw_group_list_show (FwGroupList *self, FwParamGroup *group)
{
  guint i;
  if (fw_param_group_widget (group) != NULL || !g_ptr_array_find (self->groups, group, &i))
    return;
  group_make (self, i);
  list_tell (self, kind_of (group));
}

void
fw_group_list_set_searching (FwGroupList *self, gboolean searching)
{
  for (guint i = 0; i < self->buttons->len; i++)
    gtk_widget_set_visible (self->buttons->pdata[i], !searching);
}

/* ---- The list ---- */

/* Headings, in order, kind by kind. */
static void
list_begin (FwGroupList *self)
{
  gboolean all = self->groups->len <= ALL;
  int of_kind = 0;

  for (guint i = 0; i < self->groups->len; i++)
    {
      char kind = kind_of (self->groups->pdata[i]);
      gboolean last = i + 1 == self->groups->len || kind_of (self->groups->pdata[i + 1]) != kind;
      if (all || of_kind < FIRST)
        gtk_box_append (self->box, fw_param_group_make (self->groups->pdata[i]));
      of_kind++;
      if (!last)
        continue;
      if (!all && of_kind > FIRST)
        add_button (self, kind, of_kind - FIRST);
      of_kind = 0;
    }
}

FwGroupList *
fw_group_list_new (GtkBox *box, const FwGroupCalls *calls, const FwParam *params, int n)
{
  FwGroupList *self = g_new0 (FwGroupList, 1);

  self->box = box;
  self->groups = g_ptr_array_new_with_free_func ((GDestroyNotify) fw_param_group_free);
  self->buttons = g_ptr_array_new ();
  for (int first = 0, end; first < n; first = end)
    {
      FwPartKey key = fw_part_key_of_param (params[first]);
      for (end = first + 1; end < n && fw_part_key_equal (key, fw_part_key_of_param (params[end]));)
        end++;
      g_ptr_array_add (self->groups, fw_param_group_new (calls->session, first, end - first, calls->saved, calls->saved_data,
                                                         calls->opened, calls->opened_data));
    }
  list_begin (self);
  return self;
}

void
fw_group_list_free (FwGroupList *self)
{
  if (self == NULL)
    return;
  for (guint i = 0; i < self->buttons->len; i++)
    gtk_box_remove (self->box, self->buttons->pdata[i]);
  g_ptr_array_unref (self->buttons);
  g_ptr_array_unref (self->groups);
  g_free (self);
}
