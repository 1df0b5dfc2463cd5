/* The form by which a wish is added. */
#include "app/aimrows.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "app/aimedits.h"
#include "app/controls.h"
#include "app/explain.h"
#include "app/widgetstyle.h"
#include "doc/words.h"

typedef enum { WANT_EXACTLY, WANT_LEAST, WANT_MOST, WANT_BETWEEN } Want;
typedef enum { OF_NOTHING, OF_PANEL, OF_ROD, OF_NUMBER, OF_TROUBLE } Of;

/* What each kind asks for in the form. */
typedef struct
{
  const char *label;
  Of of;
  gboolean other, crank, value;
  Want want;
  FwUnit unit; /* NUMBER: the number's own */
} Kind;

static const Kind kinds[FW_N_WISH_KINDS] = {
  [FW_WISH_TOP] = { N_ ("Top of a panel"), OF_PANEL, FALSE, FALSE, TRUE, WANT_EXACTLY, FW_UNIT_DEG },
  [FW_WISH_BOTTOM] = { N_ ("Bottom of a panel"), OF_PANEL, FALSE, FALSE, TRUE, WANT_EXACTLY, FW_UNIT_DEG },
  [FW_WISH_STROKE] = { N_ ("Stroke of a panel"), OF_PANEL, FALSE, FALSE, TRUE, WANT_EXACTLY, FW_UNIT_DEG },
  [FW_WISH_ANGLE] = { N_ ("Angle at a crank angle"), OF_PANEL, FALSE, TRUE, TRUE, WANT_EXACTLY, FW_UNIT_DEG },
  [FW_WISH_AFTER] = { N_ ("A panel after another"), OF_PANEL, TRUE, FALSE, TRUE, WANT_EXACTLY, FW_UNIT_DEG },
  [FW_WISH_TRAVEL] = { N_ ("Travel of the body"), OF_NOTHING, FALSE, FALSE, TRUE, WANT_EXACTLY, FW_UNIT_MM },
  [FW_WISH_TILT] = { N_ ("Tilt of the body"), OF_NOTHING, FALSE, FALSE, TRUE, WANT_MOST, FW_UNIT_DEG },
  [FW_WISH_PUSH] = { N_ ("Least push angle"), OF_ROD, FALSE, FALSE, TRUE, WANT_LEAST, FW_UNIT_DEG },
  [FW_WISH_TORQUE] = { N_ ("Largest crank torque"), OF_NOTHING, FALSE, FALSE, TRUE, WANT_MOST, FW_UNIT_NM },
  [FW_WISH_WITHOUT] = { N_ ("Without trouble"), OF_TROUBLE, FALSE, FALSE, FALSE, WANT_EXACTLY, FW_UNIT_MM },
  [FW_WISH_NUMBER] = { N_ ("A number within limits"), OF_NUMBER, FALSE, FALSE, TRUE, WANT_BETWEEN, FW_UNIT_MM },
  [FW_WISH_SAME] = { N_ ("Two numbers alike"), OF_NUMBER, TRUE, FALSE, FALSE, WANT_EXACTLY, FW_UNIT_MM },
};

#define CRANK_ROW 3

typedef struct
{
  FwSession *session; /* owned */
  GtkWidget *popover, *form, *kind, *of, *other, *crank, *want, *values[2], *fault, *explain;
  GPtrArray *ofs, *others; /* char*: what the lists stand for, as the file has it */
} Form;

static void
form_free (gpointer data)
{
  Form *form = data;
  g_object_unref (form->session);
  g_ptr_array_unref (form->ofs);
  g_ptr_array_unref (form->others);
  g_free (form);
}

static const Kind *
form_kind (Form *form)
{
  return &kinds[MIN (gtk_drop_down_get_selected (GTK_DROP_DOWN (form->kind)), FW_N_WISH_KINDS - 1)];
}

/* ---- What there is to choose from ---- */

static void
add_choice (GtkStringList *shown, GPtrArray *meant, const char *label, const char *name)
{
  gtk_string_list_append (shown, label);
  g_ptr_array_add (meant, g_strdup (name));
}

/* A panel on both sides by its name, which means the right one, and the left one by its own. */
static void
list_panels (const FwMechanism *m, GtkStringList *shown, GPtrArray *meant)
{
  for (int i = 0; i < m->n_members; i++)
    {
      const char *name = m->members[i].left ? m->members[i].name : m->design->panels[m->members[i].panel].name;
      add_choice (shown, meant, name, name);
    }
}

static void
list_rods (const FwMechanism *m, GtkStringList *shown, GPtrArray *meant)
{
  add_choice (shown, meant, _ ("all rods"), "");
  for (int i = 0; i < m->n_links; i++)
    {
      const char *name = m->links[i].left ? m->links[i].name : m->design->rods[m->links[i].rod].name;
      add_choice (shown, meant, name, name);
    }
}

static void
list_numbers (Form *form, const FwDesign *design, GtkStringList *shown, GPtrArray *meant)
{
  int n;
  const FwParam *params = fw_session_params (form->session, &n);
  for (int i = 0; i < n; i++)
    {
      g_autofree char *label = fw_param_label (design, params[i]), *path = fw_param_path (design, params[i]);
      if (fw_param_moves (params[i]) && path != NULL)
        add_choice (shown, meant, label, path);
    }
}

static void
list_troubles (GtkStringList *shown, GPtrArray *meant)
{
  add_choice (shown, meant, _ ("any trouble of motion"), "any");
  for (int k = 0; k < FW_LOAD_REVERSAL; k++)
    add_choice (shown, meant, fw_words_trouble_short ((FwTroubleKind) k), fw_trouble_name ((FwTroubleKind) k));
}

static void
fill_list (Form *form, GtkWidget *drop, GPtrArray *meant, Of of)
{
  g_autoptr (GtkStringList) shown = gtk_string_list_new (NULL);
  const FwMechanism *m = fw_session_scene (form->session)->mechanism;
  g_ptr_array_set_size (meant, 0);
  if (of == OF_PANEL)
    list_panels (m, shown, meant);
  else if (of == OF_ROD)
    list_rods (m, shown, meant);
  else if (of == OF_NUMBER)
    list_numbers (form, m->design, shown, meant);
  else if (of == OF_TROUBLE)
    list_troubles (shown, meant);
  gtk_drop_down_set_model (GTK_DROP_DOWN (drop), G_LIST_MODEL (shown));
}

static void
show_row (Form *form, GtkWidget *control, gboolean visible)
{
  GtkWidget *label;
  int column, row, width, height;
  gtk_grid_query_child (GTK_GRID (form->form), control, &column, &row, &width, &height);
  label = gtk_grid_get_child_at (GTK_GRID (form->form), 0, row);
  gtk_widget_set_visible (control, visible);
  gtk_widget_set_visible (label, visible);
}

static void
form_show_values (Form *form)
{
  const Kind *kind = form_kind (form);
  Want want = (Want) gtk_drop_down_get_selected (GTK_DROP_DOWN (form->want));
  show_row (form, form->want, kind->value);
  show_row (form, form->values[0], kind->value);
  show_row (form, form->values[1], kind->value && want == WANT_BETWEEN);
}

static void
form_fault (Form *form, const char *words)
{
  gtk_label_set_text (GTK_LABEL (form->fault), words != NULL ? words : "");
  gtk_widget_set_visible (form->fault, words != NULL);
}

static void
on_kind (Form *form)
{
  const Kind *kind = form_kind (form);
  fw_explain_button_set (form->explain, fw_explain_wish (fw_wish_kind_name ((FwWishKind) (kind - kinds))));
  if (fw_session_scene (form->session)->mechanism == NULL)
    return;
  fill_list (form, form->of, form->ofs, kind->of);
  fill_list (form, form->other, form->others, kind->other ? kind->of : OF_NOTHING);
  if (kind->other && form->others->len > 1)
    gtk_drop_down_set_selected (GTK_DROP_DOWN (form->other), 1);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (form->want), kind->want);
  show_row (form, form->of, kind->of != OF_NOTHING);
  show_row (form, form->other, kind->other);
  show_row (form, form->crank, kind->crank);
  form_show_values (form);
  form_fault (form, NULL);
}

/* The crank angle shown is the one that is meant as a rule. */
static void
on_shown (Form *form)
{
  on_kind (form);
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (form->crank), round (fw_session_crank (form->session) * 1800 / G_PI) / 10);
}

/* ---- Reading the form ---- */

static const char *
chosen (GtkWidget *drop, GPtrArray *meant)
{
  guint at = gtk_drop_down_get_selected (GTK_DROP_DOWN (drop));
  return at < meant->len ? meant->pdata[at] : NULL;
}

static gboolean
read_values (Form *form, FwUnit unit, FwWish *wish, GError **error)
{
  Want want = (Want) gtk_drop_down_get_selected (GTK_DROP_DOWN (form->want));
  double values[2] = { 0, 0 };
  for (int i = 0; i < (want == WANT_BETWEEN ? 2 : 1); i++)
    if (!fw_units_parse (gtk_editable_get_text (GTK_EDITABLE (form->values[i])), unit, fw_session_lengths (form->session), &values[i], error))
      return FALSE;
  wish->least = want == WANT_MOST ? -INFINITY : values[0];
  wish->most = want == WANT_LEAST ? INFINITY : want == WANT_BETWEEN ? values[1] : values[0];
  return TRUE;
}

static guint
kinds_named (const char *name)
{
  guint bits = 0;
  for (int k = 0; k < FW_LOAD_REVERSAL; k++)
    if (g_str_equal (name, "any") || g_str_equal (name, fw_trouble_name ((FwTroubleKind) k)))
      bits |= 1u << k;
  return bits;
}

static void
wish_clear (FwWish *wish)
{
  g_free (wish->part);
  g_free (wish->other);
  g_strfreev (wish->numbers);
}

static gboolean
form_read (Form *form, FwWish *wish, GError **error)
{
  const Kind *kind = form_kind (form);
  const FwDesign *design = fw_document_design (fw_session_document (form->session));
  const char *of = chosen (form->of, form->ofs), *other = kind->other ? chosen (form->other, form->others) : NULL;
  FwUnit unit = kind->unit;
  FwParam param;
  *wish = (FwWish) { .kind = (FwWishKind) (kind - kinds), .weight = 1 };
  if (kind->of == OF_NUMBER && of != NULL)
    {
      wish->numbers = g_new0 (char *, 3);
      wish->numbers[0] = g_strdup (of);
      wish->numbers[1] = g_strdup (other);
      if (fw_param_from_path (design, of, &param))
        unit = fw_param_unit (param);
    }
  else if (kind->of == OF_TROUBLE)
    wish->kinds = kinds_named (of != NULL ? of : "any");
  else if (of != NULL && *of != '\0')
    wish->part = g_strdup (of);
  if (kind->of == OF_PANEL)
    wish->other = g_strdup (other);
  if (kind->crank)
    wish->crank_deg = gtk_spin_button_get_value (GTK_SPIN_BUTTON (form->crank));
  return !kind->value || read_values (form, unit, wish, error);
}

/* What makes no sense, by itself or beside the other wishes, is told here and not taken. */
static void
on_add (Form *form)
{
  g_autoptr (GError) error = NULL;
  FwWish wish;
  if (!form_read (form, &wish, &error))
    {
      wish_clear (&wish);
      form_fault (form, error->message);
      return;
    }
  FwWishes *wishes = fw_wishes_copy (fw_session_wishes (form->session));
  fw_wishes_put (wishes, wish);
  if (!fw_session_check_wishes (form->session, wishes, &error))
    {
      fw_wishes_free (wishes);
      form_fault (form, error->message);
      return;
    }
  form_fault (form, NULL);
  gtk_popover_popdown (GTK_POPOVER (form->popover));
  fw_session_set_wishes (form->session, wishes, _ ("Add a wish"));
}

/* ---- The form ---- */

static GtkWidget *
drop_down (void)
{
  GtkWidget *drop = gtk_drop_down_new (NULL, NULL);
  GtkExpression *words = gtk_property_expression_new (GTK_TYPE_STRING_OBJECT, NULL, "string");
  gtk_drop_down_set_expression (GTK_DROP_DOWN (drop), words);
  gtk_expression_unref (words);
  return drop;
}

static GtkWidget *
value_entry (Form *form)
{
  GtkWidget *entry = gtk_entry_new ();
  gtk_editable_set_width_chars (GTK_EDITABLE (entry), 12);
  fw_left_to_right (entry);
  g_signal_connect_swapped (entry, "activate", G_CALLBACK (on_add), form);
  return entry;
}

static void
form_add_controls (Form *form)
{
  const char *names[FW_N_WISH_KINDS + 1] = { NULL };
  const char *const wants[] = { C_ ("wish", "exactly"), C_ ("wish", "at least"), C_ ("wish", "at most"), C_ ("wish", "from … to"), NULL };
  GtkGrid *grid = GTK_GRID (form->form);
  for (int k = 0; k < FW_N_WISH_KINDS; k++)
    names[k] = _ (kinds[k].label);
  form->kind = fw_form_add (grid, 0, C_ ("wish", "_Wish"), gtk_drop_down_new_from_strings (names));
  form->explain = fw_explain_button_new (form->session, form->form, NULL, FALSE);
  gtk_widget_set_focusable (form->explain, FALSE); /* F1 has it */
  gtk_grid_attach (grid, form->explain, 2, 0, 1, 1);
  form->of = fw_form_add (grid, 1, C_ ("wish", "_Of"), drop_down ());
  form->other = fw_form_add (grid, 2, C_ ("wish", "A_nd"), drop_down ());
  form->crank = fw_form_add (grid, CRANK_ROW, _ ("_Crank angle"), fw_spin_new (0, 359.9, 1, 0));
  gtk_spin_button_set_digits (GTK_SPIN_BUTTON (form->crank), 1);
  form->want = fw_form_add (grid, 4, C_ ("wish", "_How"), gtk_drop_down_new_from_strings (wants));
  form->values[0] = fw_form_add (grid, 5, C_ ("wish", "_Value"), value_entry (form));
  form->values[1] = fw_form_add (grid, 6, C_ ("wish", "_to"), value_entry (form));
  gtk_drop_down_set_enable_search (GTK_DROP_DOWN (form->of), TRUE);
  gtk_drop_down_set_enable_search (GTK_DROP_DOWN (form->other), TRUE);
  fw_widget_describe (form->kind, _ ("Wish"), NULL);
  fw_widget_describe (form->of, _ ("Of which part or number"), NULL);
  fw_widget_describe (form->other, _ ("And which other"), NULL);
  fw_widget_describe (form->want, _ ("How it is wanted"), NULL);
  g_signal_connect_swapped (form->kind, "notify::selected", G_CALLBACK (on_kind), form);
  g_signal_connect_swapped (form->want, "notify::selected", G_CALLBACK (form_show_values), form);
}

GtkWidget *
fw_aim_chooser_new (FwSession *session)
{
  GtkWidget *button = gtk_menu_button_new (), *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12), *add = fw_button_new (_ ("_Add"));
  Form *form = g_new0 (Form, 1);

  form->session = g_object_ref (session);
  form->ofs = g_ptr_array_new_with_free_func (g_free);
  form->others = g_ptr_array_new_with_free_func (g_free);
  form->popover = gtk_popover_new ();
  form->form = gtk_grid_new ();
  gtk_grid_set_row_spacing (GTK_GRID (form->form), 6);
  gtk_grid_set_column_spacing (GTK_GRID (form->form), 12);
  form_add_controls (form);
  form->fault = fw_note_label ("");
  gtk_label_set_max_width_chars (GTK_LABEL (form->fault), 36);
  gtk_widget_add_css_class (form->fault, "error");
  gtk_widget_set_visible (form->fault, FALSE);
  gtk_widget_add_css_class (add, "suggested-action");
  gtk_widget_set_halign (add, GTK_ALIGN_END);
  g_signal_connect_swapped (add, "clicked", G_CALLBACK (on_add), form);
  g_signal_connect_swapped (form->popover, "show", G_CALLBACK (on_shown), form);
  fw_explain_take_key (form->popover);
  gtk_box_append (GTK_BOX (box), form->form);
  gtk_box_append (GTK_BOX (box), form->fault);
  gtk_box_append (GTK_BOX (box), add);
  gtk_widget_add_css_class (box, "fw-list");
  gtk_popover_set_child (GTK_POPOVER (form->popover), box);
  gtk_menu_button_set_popover (GTK_MENU_BUTTON (button), form->popover);
  gtk_menu_button_set_icon_name (GTK_MENU_BUTTON (button), "list-add-symbolic");
  gtk_widget_add_css_class (button, "flat");
  gtk_widget_set_tooltip_text (button, _ ("Add a wish"));
  fw_widget_describe (button, _ ("Add a wish"), NULL);
  g_object_set_data_full (G_OBJECT (button), "fw-form", form, form_free);
  return button;
}
