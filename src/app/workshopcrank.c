/* How the crank is made: crank.build by hand. */
#include "app/workshopmaking.h"

#include <glib/gi18n.h>
#include <string.h>

#include "app/controls.h"
#include "app/widgetstyle.h"
#include "app/workshopentry.h"
#include "core/making.h"
#include "doc/documenttree.h"
#include "doc/makeedit.h"

/* Of the drop-down: nothing said, then FwMake. */
#define NOT_SAID 0

typedef struct
{
  const char *key, *label, *tip;
  gsize at;   /* in FwCrankBuild */
  guint makes; /* bits of FwMake that need it */
} Length;

#define ELBOWS (1u << FW_MAKE_ELBOWS)
#define BOLTED (1u << FW_MAKE_BOLTED)
#define BENT (1u << FW_MAKE_BENT)
#define ALL (ELBOWS | BOLTED | BENT)

static const Length lengths[] = {
  { "take_off", N_ ("_Take-off"), N_ ("From where the tube stops in an elbow to the elbow’s centre: measure yours"), G_STRUCT_OFFSET (FwCrankBuild, take_off_mm), ELBOWS },
  { "cup", N_ ("C_up"), N_ ("How deep the tube goes into an elbow: measure yours"), G_STRUCT_OFFSET (FwCrankBuild, cup_mm), ELBOWS },
  { "web_thickness", N_ ("_Web thickness"), N_ ("Of the flat bar that webs are cut from"), G_STRUCT_OFFSET (FwCrankBuild, web_thickness_mm), BOLTED },
  { "web_width", N_ ("We_b width"), N_ ("Of the flat bar that webs are cut from"), G_STRUCT_OFFSET (FwCrankBuild, web_width_mm), BOLTED },
  { "bolt", N_ ("T_hread"), N_ ("Of the threaded rods through pins and axis"), G_STRUCT_OFFSET (FwCrankBuild, bolt_mm), BOLTED },
  { "bend_radius", N_ ("Bend _radius"), N_ ("Of the centre line of a bend"), G_STRUCT_OFFSET (FwCrankBuild, bend_radius_mm), BENT },
  { "leg", N_ ("Shortest _leg"), N_ ("Shortest straight between two bends that the bender takes"), G_STRUCT_OFFSET (FwCrankBuild, leg_mm), BENT },
  { "clamp", N_ ("Room for a rod’s _end"), N_ ("Length of pin that one rod’s fitting takes"), G_STRUCT_OFFSET (FwCrankBuild, clamp_mm), ALL },
  { "bearing", N_ ("Room for a bearin_g"), N_ ("Length of axis that one bearing takes"), G_STRUCT_OFFSET (FwCrankBuild, bearing_mm), ALL },
  { "grip", N_ ("Gr_ip of the handle"), N_ ("Length of the handle’s grip"), G_STRUCT_OFFSET (FwCrankBuild, grip_mm), ALL },
};
#define N_LENGTHS ((int) G_N_ELEMENTS (lengths))

typedef struct
{
  FwWorkshop *workshop; /* borrowed: it holds the form */
  GtkWidget *make, *say, *grid, *returns, *eyes, *bearings;
  FwEntry *pipe, *wall, *entry[N_LENGTHS];
  GtkWidget *row[N_LENGTHS]; /* names; hidden along with their entries */
  gboolean updating;
} CrankForm;

static FwDocument *
form_document (const CrankForm *self)
{
  return fw_session_document (fw_workshop_session (self->workshop));
}

static const char *
make_word (FwMake make)
{
  return make == FW_MAKE_ELBOWS ? "elbows" : make == FW_MAKE_BOLTED ? "bolted" : "bent";
}

/* The step's name without the underlined letter. */
static char *
plain (const char *mnemonic)
{
  g_auto (GStrv) parts = g_strsplit (mnemonic, "_", -1);
  return g_strjoinv ("", parts);
}

static gboolean
form_set (CrankForm *self, const char *key, cJSON *value, const char *label)
{
  FwDocument *doc = form_document (self);
  GError *error = NULL;
  const FwCrankBuild make = fw_making (fw_document_design (doc));
  fw_document_set_build (doc, make_word (make.make), key, value, label, NULL, &error);
  return fw_workshop_edited (self->workshop, error);
}

/* ---- What was changed ---- */

static void
on_make (CrankForm *self)
{
  guint selected = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->make));
  FwDocument *doc = form_document (self);
  GError *error = NULL;

  if (self->updating || doc == NULL)
    return;
  if (selected == NOT_SAID)
    {
      fw_document_drop_build (doc, _("How the crank is made"), &error);
      fw_workshop_edited (self->workshop, error);
      return;
    }
  if (!form_set (self, "make", cJSON_CreateString (make_word ((FwMake) (selected - 1))), _("How the crank is made")))
    fw_crank_form_update (g_object_get_data (G_OBJECT (self->make), "form"));
}

/* With what it is assumed to be made of: the sizes are then there to be looked over. */
static void
on_say (CrankForm *self)
{
  const FwCrankBuild make = fw_making (fw_document_design (form_document (self)));
  form_set (self, "make", cJSON_CreateString (make_word (make.make)), _("How the crank is made"));
}

static gboolean
on_length (FwEntry *entry, double value, gboolean empty, gpointer data)
{
  CrankForm *self = data;
  for (int i = 0; i < N_LENGTHS; i++)
    if (self->entry[i] == entry)
      {
        g_autofree char *label = plain (_(lengths[i].label));
        return form_set (self, lengths[i].key, empty ? NULL : cJSON_CreateNumber (value), label);
      }
  return FALSE;
}

static gboolean
on_wall (FwEntry *entry, double value, gboolean empty, gpointer data)
{
  return form_set (data, "wall", empty ? NULL : cJSON_CreateNumber (value), _("Wall of the crank’s pipe"));
}

static gboolean
is_bar (const FwStock *stock, const char *name)
{
  for (int i = 0; i < stock->n_bars; i++)
    if (stock->bars[i].diameter_mm > 0 && g_str_equal (stock->bars[i].name, name))
      return TRUE;
  return FALSE;
}

/* A name of a bar or tube, else a diameter. */
static gboolean
on_pipe (FwEntry *entry, const char *text, gpointer data)
{
  CrankForm *self = data;
  const FwDesign *design = fw_document_design (form_document (self));
  double value = 0;

  if (*text == '\0')
    return form_set (self, "pipe", NULL, _("The crank’s pipe"));
  if (is_bar (&design->stock, text) || fw_tube_find (text) != NULL)
    return form_set (self, "pipe", cJSON_CreateString (text), _("The crank’s pipe"));
  if (fw_units_parse (text, FW_UNIT_MM, fw_session_lengths (fw_workshop_session (self->workshop)), &value, NULL))
    return form_set (self, "pipe", cJSON_CreateNumber (value), _("The crank’s pipe"));
  fw_message_bar_fail (fw_workshop_messages (self->workshop),
                       _("A diameter, or the name of a round bar of the stock or of a common tube, such as 15 x 1, was expected"));
  return FALSE;
}

static void
on_returns (CrankForm *self)
{
  if (!self->updating)
    form_set (self, "returns", cJSON_CreateBool (gtk_check_button_get_active (GTK_CHECK_BUTTON (self->returns))),
              _("Back to the axis between throws"));
}

static void
on_eyes (CrankForm *self)
{
  if (!self->updating)
    form_set (self, "eyes", cJSON_CreateString (gtk_drop_down_get_selected (GTK_DROP_DOWN (self->eyes)) == 1 ? "open" : "closed"),
              _("Rods’ ends on the crank"));
}

static void
on_bearings (CrankForm *self)
{
  if (!self->updating)
    form_set (self, "bearings",
              cJSON_CreateString (gtk_drop_down_get_selected (GTK_DROP_DOWN (self->bearings)) == 1 ? "open" : "closed"),
              _("Bearings of the crank"));
}

/* ---- What is shown ---- */

/* A field shows what the file says; what it leaves out is shown faintly. */
static void
show_length (FwEntry *entry, const cJSON *build, const char *key, double value, const char *none, FwLengths units)
{
  gboolean said = cJSON_IsNumber (cJSON_GetObjectItemCaseSensitive (build, key));
  g_autofree char *usual = none != NULL ? g_strdup (none) : fw_units_format (value, FW_UNIT_MM, units, -1);
  gtk_entry_set_placeholder_text (GTK_ENTRY (fw_entry_widget (entry)), usual);
  fw_entry_set (entry, value, !said, units);
}

static void
show_pipe (CrankForm *self, const cJSON *build, const FwCrankBuild *make, FwLengths units)
{
  const cJSON *pipe = cJSON_GetObjectItemCaseSensitive (build, "pipe");
  g_autofree char *size = fw_units_format (make->pipe_mm, FW_UNIT_MM, units, -1);

  gtk_entry_set_placeholder_text (GTK_ENTRY (fw_entry_widget (self->pipe)), size);
  fw_entry_set_text (self->pipe, cJSON_IsString (pipe) ? pipe->valuestring : pipe != NULL ? size : "");
  gtk_widget_set_sensitive (fw_entry_widget (self->wall), cJSON_IsNumber (pipe));
  show_length (self->wall, build, "wall", make->wall_mm, make->wall_mm > 0 ? NULL : _("solid"), units);
}

void
fw_crank_form_update (GtkWidget *form)
{
  CrankForm *self = g_object_get_data (G_OBJECT (form), "crank-form");
  FwDocument *doc = form_document (self);
  const cJSON *build = cJSON_GetObjectItemCaseSensitive (fw_document_section (doc, "crank"), "build");
  const FwDesign *design = fw_document_design (doc);
  const FwCrankBuild make = fw_making (design);
  FwLengths units = fw_session_lengths (fw_workshop_session (self->workshop));

  self->updating = TRUE;
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->make), make.given ? (guint) make.make + 1 : NOT_SAID);
  gtk_widget_set_visible (self->say, !make.given);
  gtk_widget_set_visible (self->grid, make.given);
  show_pipe (self, build, &make, units);
  gtk_check_button_set_active (GTK_CHECK_BUTTON (self->returns), make.returns);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->eyes), make.open_eyes ? 1 : 0);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->bearings), make.open_bearings ? 1 : 0);
  for (int i = 0; i < N_LENGTHS; i++)
    {
      gboolean needed = (lengths[i].makes & (1u << make.make)) != 0;
      gtk_widget_set_visible (fw_entry_widget (self->entry[i]), needed);
      gtk_widget_set_visible (self->row[i], needed);
      show_length (self->entry[i], build, lengths[i].key, G_STRUCT_MEMBER (double, &make, lengths[i].at), NULL, units);
    }
  self->updating = FALSE;
}

/* ---- The form ---- */

static GtkWidget *
form_entry (GtkGrid *grid, int row, const char *mnemonic, FwEntry *entry, const char *tip)
{
  GtkWidget *widget = fw_entry_widget (entry);
  g_autofree char *name = plain (mnemonic);
  fw_form_add (grid, row, mnemonic, widget);
  gtk_accessible_reset_relation (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_RELATION_LABELLED_BY);
  fw_widget_describe (widget, name, tip);
  gtk_widget_set_tooltip_text (widget, tip);
  return gtk_grid_get_child_at (grid, 0, row);
}

static GtkWidget *
form_choice (GtkGrid *grid, int row, const char *mnemonic, const char *const *words, GCallback changed, CrankForm *self)
{
  GtkWidget *choice = fw_form_add (grid, row, mnemonic, gtk_drop_down_new_from_strings (words));
  g_signal_connect_swapped (choice, "notify::selected", changed, self);
  return choice;
}

static GtkWidget *
form_grid (CrankForm *self)
{
  const char *ends[] = { _("Threaded on"), _("Close round it"), NULL };
  GtkGrid *grid = GTK_GRID (gtk_grid_new ());
  int row = 0;

  gtk_grid_set_row_spacing (grid, 6);
  gtk_grid_set_column_spacing (grid, 12);
  self->pipe = fw_entry_new_text (10, on_pipe, self);
  form_entry (grid, row++, _("P_ipe"), self->pipe,
              _("Of pins and axis: its outside diameter, or the name of a round bar of the stock or of a common tube, such as 15 x 1"));
  self->wall = fw_entry_new (FW_UNIT_MM, TRUE, 10, on_wall, self);
  form_entry (grid, row++, _("W_all"), self->wall, _("Of a pipe that is given by its diameter; empty: solid"));
  for (int i = 0; i < N_LENGTHS; i++)
    {
      self->entry[i] = fw_entry_new (FW_UNIT_MM, TRUE, 10, on_length, self);
      self->row[i] = form_entry (grid, row++, _(lengths[i].label), self->entry[i], _(lengths[i].tip));
    }
  self->eyes = form_choice (grid, row++, _("R_ods’ ends"), ends, G_CALLBACK (on_eyes), self);
  self->bearings = form_choice (grid, row++, _("Bearin_gs"), ends, G_CALLBACK (on_bearings), self);
  self->returns = fw_check_new (_("Bac_k to the axis between throws"), TRUE);
  g_signal_connect_swapped (self->returns, "toggled", G_CALLBACK (on_returns), self);
  gtk_grid_attach (grid, self->returns, 0, row, 2, 1);
  return GTK_WIDGET (grid);
}

GtkWidget *
fw_crank_form_new (FwWorkshop *workshop)
{
  const char *makes[] = { _("Not said, and not judged"), _("Elbows and tube"), _("Webs, bolted"), _("Bent in one"), NULL };
  CrankForm *self = g_new0 (CrankForm, 1);
  GtkWidget *form = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12), *heading = gtk_label_new (_("The crank as it is made"));

  g_object_set_data_full (G_OBJECT (form), "crank-form", self, g_free);
  self->workshop = workshop;
  gtk_label_set_xalign (GTK_LABEL (heading), 0);
  gtk_widget_add_css_class (heading, "fw-section");
  gtk_box_append (GTK_BOX (form), heading);
  self->make = gtk_drop_down_new_from_strings (makes);
  fw_widget_describe (self->make, _("How the crank is made"), NULL);
  g_object_set_data (G_OBJECT (self->make), "form", form);
  g_signal_connect_swapped (self->make, "notify::selected", G_CALLBACK (on_make), self);
  gtk_box_append (GTK_BOX (form), self->make);
  self->say = fw_button_new (_("_Say how the crank is made"));
  gtk_widget_add_css_class (self->say, "suggested-action");
  gtk_widget_set_tooltip_text (self->say, _("As it is assumed so far, with sizes to look over; it is then judged by whether it can be made"));
  g_signal_connect_swapped (self->say, "clicked", G_CALLBACK (on_say), self);
  gtk_box_append (GTK_BOX (form), self->say);
  self->grid = form_grid (self);
  gtk_box_append (GTK_BOX (form), self->grid);
  GtkWidget *note = fw_note_label (_("An empty field means what stands in it faintly. No standard fixes the sizes of fittings: measure yours."));
  gtk_widget_add_css_class (note, "fw-faint");
  gtk_box_append (GTK_BOX (form), note);
  return form;
}
