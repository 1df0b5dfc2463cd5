#include "app/parttools.h"

#include <glib/gi18n.h>
#include <string.h>

#include "app/widgetstyle.h"
#include "doc/choices.h"

struct _FwPartTools
{
  GtkWidget parent_instance;

  FwSession *session; /* owned */
  FwPartKey key;
  char *made_for;     /* what the rows say, but for which option stands */
  GPtrArray *choices; /* FwChoice, of the present design */
  GPtrArray *downs;   /* GtkDropDown, one a choice; borrowed */
  GtkWidget *box, *name;
  gboolean writing; /* the widgets are set from the model */
};

G_DEFINE_FINAL_TYPE (FwPartTools, fw_part_tools, GTK_TYPE_WIDGET)

/* ---- Which part ---- */

static gboolean
key_holder (FwPartKey key, FwHolder *holder)
{
  static const char parts[FW_N_PLACES + 1] = "tprewl", others[] = "cbsd";
  const char *at = strchr (parts, key.kind), *other = strchr (others, key.kind);
  if (at != NULL)
    *holder = (FwHolder) { FW_HOLDER_PART, { (FwPlace) (at - parts), key.index } };
  else if (other != NULL)
    *holder = (FwHolder) { (FwHolderKind) (FW_HOLDER_CRANK + (other - others)), { FW_PLACE_THROW, 0 } };
  return at != NULL || other != NULL;
}

/* ---- Choices ---- */

static void
on_chosen (GtkDropDown *down, GParamSpec *spec, FwPartTools *self)
{
  guint at = 0, k = gtk_drop_down_get_selected (down);
  GError *error = NULL;

  if (self->writing || k == GTK_INVALID_LIST_POSITION || !g_ptr_array_find (self->downs, down, &at)
      || at >= self->choices->len)
    return;
  /* It changes the list of numbers and may take this row away. */
  FwSession *session = g_object_ref (self->session);
  g_object_ref (self);
  if (!fw_document_choose (fw_session_document (session), self->choices->pdata[at], (int) k, &error))
    {
      const FwChoice *choice = self->choices->pdata[at];
      self->writing = TRUE;
      gtk_drop_down_set_selected (down, (guint) choice->now);
      self->writing = FALSE;
    }
  fw_session_edited (session, error);
  g_object_unref (self);
  g_object_unref (session);
}

static GtkWidget *
labelled (const char *text, GtkWidget *widget)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6), *label = gtk_label_new (text);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_set_hexpand (label, TRUE);
  gtk_box_append (GTK_BOX (line), label);
  gtk_box_append (GTK_BOX (line), widget);
  gtk_widget_set_margin_start (line, 24); /* as the numbers above */
  gtk_widget_set_margin_end (line, 12);
  return line;
}

static void
tools_add_choice (FwPartTools *self, const FwChoice *choice)
{
  GtkStringList *words = gtk_string_list_new (NULL);
  for (guint i = 0; i < choice->words->len; i++)
    gtk_string_list_append (words, choice->words->pdata[i]);
  GtkWidget *down = gtk_drop_down_new (G_LIST_MODEL (words), NULL);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (down), (guint) choice->now);
  fw_widget_describe (down, choice->label, NULL);
  g_signal_connect_object (down, "notify::selected", G_CALLBACK (on_chosen), self, 0);
  g_ptr_array_add (self->downs, down);
  gtk_box_append (GTK_BOX (self->box), labelled (choice->label, down));
}

/* ---- Name and removal ---- */

static void
on_rename (FwPartTools *self)
{
  FwHolder holder;
  GError *error = NULL;
  if (self->writing || fw_session_document (self->session) == NULL || !key_holder (self->key, &holder))
    return;
  FwSession *session = g_object_ref (self->session);
  g_autofree char *name = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->name))));
  fw_document_rename_part (fw_session_document (session), holder.ref, name, &error);
  fw_session_edited (session, error);
  g_object_unref (session);
}

static void
on_remove (FwPartTools *self)
{
  FwHolder holder;
  GError *error = NULL;
  if (!key_holder (self->key, &holder))
    return;
  FwSession *session = g_object_ref (self->session);
  FwDocument *doc = fw_session_document (session);
  g_autofree char *name = g_strdup (fw_part_ref_name (fw_document_design (doc), holder.ref)), *also = NULL;
  fw_document_remove_part (doc, holder.ref, &also, &error);
  if (!fw_session_edited (session, error))
    ;
  else if (also != NULL)
    /* Translators: a part that was taken away, and the names of those that went with it. */
    fw_session_say (session, _("Removed: %s, and with it %s"), name, also);
  else
    fw_session_say (session, _("Removed: %s"), name);
  g_object_unref (session);
}

static void
tools_add_name (FwPartTools *self, const char *name)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6), *remove = gtk_button_new_with_label (_("Remove"));
  g_autofree char *entry_words = g_strdup_printf (_("Name of %s"), name);
  g_autofree char *remove_words = g_strdup_printf (_("Remove %s"), name);

  self->name = gtk_entry_new ();
  gtk_editable_set_text (GTK_EDITABLE (self->name), name);
  gtk_editable_set_width_chars (GTK_EDITABLE (self->name), 10);
  gtk_widget_set_tooltip_text (self->name, _("Enter gives it this name wherever the design speaks of it"));
  fw_widget_describe (self->name, entry_words, NULL);
  g_signal_connect_object (self->name, "activate", G_CALLBACK (on_rename), self, G_CONNECT_SWAPPED);
  fw_widget_describe (remove, remove_words, NULL);
  gtk_widget_set_tooltip_text (remove, _("With what cannot be without it; can be undone"));
  g_signal_connect_object (remove, "clicked", G_CALLBACK (on_remove), self, G_CONNECT_SWAPPED);
  gtk_box_append (GTK_BOX (line), self->name);
  gtk_box_append (GTK_BOX (line), remove);
  gtk_box_append (GTK_BOX (self->box), labelled (_("Name"), line));
}

/* ---- Following the design ---- */

static char *
signature (GPtrArray *choices, const char *name)
{
  GString *all = g_string_new (name);
  for (guint i = 0; i < choices->len; i++)
    {
      const FwChoice *c = choices->pdata[i];
      g_string_append_printf (all, "\n%s", c->label);
      for (guint k = 0; k < c->words->len; k++)
        g_string_append_printf (all, "\t%s", (const char *) c->words->pdata[k]);
    }
  return g_string_free (all, FALSE);
}

static void
tools_make_rows (FwPartTools *self, const char *name)
{
  GtkWidget *child;
  while ((child = gtk_widget_get_first_child (self->box)) != NULL)
    gtk_box_remove (GTK_BOX (self->box), child);
  g_ptr_array_set_size (self->downs, 0);
  self->name = NULL;
  for (guint i = 0; i < self->choices->len; i++)
    tools_add_choice (self, self->choices->pdata[i]);
  if (name != NULL)
    tools_add_name (self, name);
}

static void
tools_refresh (FwPartTools *self)
{
  FwDocument *doc = fw_session_document (self->session);
  FwHolder holder;
  if (doc == NULL || !key_holder (self->key, &holder))
    return;
  gboolean part = holder.kind == FW_HOLDER_PART;
  const FwDesign *design = fw_document_design (doc);
  if (part && holder.ref.index >= fw_part_count (design, holder.ref.place))
    return; /* it has gone; the group goes too */
  const char *name = part ? fw_part_ref_name (design, holder.ref) : NULL;
  GPtrArray *choices = fw_choices_of (doc, holder);
  char *made_for = signature (choices, name != NULL ? name : "");

  g_ptr_array_unref (self->choices);
  self->choices = choices;
  self->writing = TRUE;
  if (g_strcmp0 (made_for, self->made_for) != 0)
    tools_make_rows (self, name);
  for (guint i = 0; i < self->downs->len; i++)
    gtk_drop_down_set_selected (self->downs->pdata[i], (guint) ((const FwChoice *) choices->pdata[i])->now);
  if (self->name != NULL)
    gtk_editable_set_text (GTK_EDITABLE (self->name), name);
  self->writing = FALSE;
  g_free (self->made_for);
  self->made_for = made_for;
}

/* ---- Object ---- */

static void
part_tools_dispose (GObject *object)
{
  FwPartTools *self = FW_PART_TOOLS (object);
  self->name = NULL;
  fw_widget_drop_children (GTK_WIDGET (self));
  g_clear_object (&self->session);
  G_OBJECT_CLASS (fw_part_tools_parent_class)->dispose (object);
}

static void
part_tools_finalize (GObject *object)
{
  FwPartTools *self = FW_PART_TOOLS (object);
  g_ptr_array_unref (self->choices);
  g_ptr_array_unref (self->downs);
  g_free (self->made_for);
  G_OBJECT_CLASS (fw_part_tools_parent_class)->finalize (object);
}

static void
fw_part_tools_class_init (FwPartToolsClass *class)
{
  G_OBJECT_CLASS (class)->dispose = part_tools_dispose;
  G_OBJECT_CLASS (class)->finalize = part_tools_finalize;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (class), GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
fw_part_tools_init (FwPartTools *self)
{
  self->choices = g_ptr_array_new ();
  self->downs = g_ptr_array_new ();
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
}

GtkWidget *
fw_part_tools_new (FwSession *session, FwPartKey key)
{
  FwPartTools *self = g_object_new (FW_TYPE_PART_TOOLS, NULL);
  self->session = g_object_ref (session);
  self->key = key;
  g_signal_connect_object (session, "design-changed", G_CALLBACK (tools_refresh), self, G_CONNECT_SWAPPED);
  tools_refresh (self);
  return GTK_WIDGET (self);
}

/* ---- Adding ---- */

/* The picked part, as a place in the design's lists. */
static gboolean
picked_ref (FwSession *session, FwPartRef *ref)
{
  const FwPart *part = fw_session_picked (session);
  FwHolder holder;
  if (part == NULL)
    return FALSE;
  const FwMechanism *mechanism = fw_session_scene (session)->mechanism;
  gboolean throw = part->kind == FW_PART_CRANK && part->index > 0;
  FwPartKey key = throw ? (FwPartKey) { 't', part->index - 1 } : fw_part_key_of_part (mechanism, *part);
  if (!key_holder (key, &holder) || holder.kind != FW_HOLDER_PART)
    return FALSE;
  *ref = holder.ref;
  return TRUE;
}

/* The part in the views, where it is drawn as one of its own. */
static void
pick_added (FwSession *session, FwPartRef ref)
{
  const FwMechanism *m = fw_session_scene (session)->mechanism;
  FwPart part = { FW_PART_CRANK, 1 + ref.index };
  gboolean found = ref.place == FW_PLACE_THROW || ref.place == FW_PLACE_WEIGHT;
  if (ref.place == FW_PLACE_WEIGHT)
    part = (FwPart) { FW_PART_WEIGHT, ref.index };
  for (int i = 0; ref.place == FW_PLACE_PANEL && i < m->n_members && !found; i++)
    if ((found = m->members[i].panel == ref.index))
      part = (FwPart) { FW_PART_MEMBER, i };
  for (int i = 0; ref.place == FW_PLACE_ROD && i < m->n_links && !found; i++)
    if ((found = m->links[i].rod == ref.index))
      part = (FwPart) { FW_PART_LINK, i };
  for (int i = 0; ref.place == FW_PLACE_SPRING && i < m->n_coils && !found; i++)
    if ((found = m->coils[i].spring == ref.index))
      part = (FwPart) { FW_PART_SPRING, i };
  if (found)
    fw_session_pick (session, &part);
}

static void
on_add (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  FwSession *session = data;
  FwDocument *doc = fw_session_document (session);
  FwPartRef near, added;
  GError *error = NULL;
  if (doc == NULL)
    return;
  gboolean picked = picked_ref (session, &near);
  fw_document_add_part (doc, (FwPlace) g_variant_get_int32 (parameter), picked ? &near : NULL, &added, &error);
  if (!fw_session_edited (session, error))
    return;
  pick_added (session, added);
  /* Translators: %s is the name of a new part. */
  fw_session_say (session, _("Added: %s"), fw_part_ref_name (fw_document_design (doc), added));
}

GtkWidget *
fw_part_add_button_new (FwSession *session)
{
  static const char *const words[FW_N_PLACES]
      = { N_("Throw"), N_("Panel"), N_("Rod"), N_("Spring"), N_("Counterweight on the crank"), N_("Weight on the body") };
  GMenu *menu = g_menu_new ();
  GSimpleActionGroup *actions = g_simple_action_group_new ();
  GSimpleAction *add = g_simple_action_new ("add", G_VARIANT_TYPE_INT32);
  GtkWidget *button = gtk_menu_button_new ();

  for (int i = 0; i < FW_N_PLACES; i++)
    {
      GMenuItem *item = g_menu_item_new (_(words[i]), NULL);
      g_menu_item_set_action_and_target (item, "part.add", "i", i);
      g_menu_append_item (menu, item);
      g_object_unref (item);
    }
  g_signal_connect_object (add, "activate", G_CALLBACK (on_add), session, 0);
  g_action_map_add_action (G_ACTION_MAP (actions), G_ACTION (add));
  gtk_widget_insert_action_group (button, "part", G_ACTION_GROUP (actions));
  gtk_menu_button_set_label (GTK_MENU_BUTTON (button), _("Add part…"));
  gtk_menu_button_set_menu_model (GTK_MENU_BUTTON (button), G_MENU_MODEL (menu));
  gtk_widget_set_tooltip_text (button, _("Beside the part that is picked, of sensible size"));
  fw_widget_describe (button, _("Add part"), NULL);
  g_object_unref (add);
  g_object_unref (actions);
  g_object_unref (menu);
  return button;
}
