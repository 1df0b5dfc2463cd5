#include "app/helpspage.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/explain.h"
#include "app/helpsjob.h"
#include "app/look.h"
#include "app/widgetstyle.h"
#include "doc/words.h"
#include "draw/helpsplot.h"
#include "shop/build.h"

#define REST_MS 150
#define SURELY 3    /* rows shown however faint */
#define FAINT 0.02 /* of the strongest: less than that is no help */
#define DEGREES (180 / G_PI)

typedef struct
{
  FwHelpOf of;
  char *label;
} Thing;

struct _FwHelpsPage
{
  GtkWidget parent_instance;

  FwSession *session; /* owned */
  FwHelpsJob *job;
  GtkWidget *things, *title, *spinner, *plot, *note;
  GArray *list;       /* Thing: what the drop-down offers */
  const FwDocument *document; /* that it was made of; only compared */
  guint64 serial;
  gboolean filling;
  guint rest;         /* timeout */
  FwHelpBar bars[FW_HELPS_MOST];
  FwParam params[FW_HELPS_MOST];
  int n, marked;
};

G_DEFINE_FINAL_TYPE (FwHelpsPage, fw_helps_page, GTK_TYPE_WIDGET)

static guint signal_number;

static void
thing_clear (gpointer data)
{
  g_free (((Thing *) data)->label);
}

static FwStyle
page_style (FwHelpsPage *self)
{
  FwStyle style = fw_session_style (self->session, 1);
  return style;
}

static FwBox
plot_box (FwHelpsPage *self)
{
  return (FwBox) { 0, 0, gtk_widget_get_width (self->plot), gtk_widget_get_height (self->plot) };
}

/* ---- What is in hand ---- */

static void
add_thing (FwHelpsPage *self, FwHelpOf of, char *label)
{
  Thing thing = { of, label };
  g_array_append_val (self->list, thing);
}

static void
add_trouble (FwHelpsPage *self, const FwScene *scene)
{
  int picked = fw_session_picked_trouble (self->session);
  if (picked < 0 || scene->troubles == NULL || picked >= scene->troubles->n)
    return;
  const FwTrouble *trouble = &scene->troubles->items[picked];
  /* Translators: a trouble and its part, e.g. "Trouble: weak push of inrod" */
  add_thing (self, (FwHelpOf) { .kind = FW_HELP_TROUBLE, .trouble = *trouble, .find_making = fw_shop_trouble_find },
             g_strdup_printf (_ ("Trouble: %s, %s"), fw_words_trouble_short (trouble->kind),
                              fw_words_part (scene->mechanism, trouble->part)));
}

static void
add_panel (FwHelpsPage *self, const FwScene *scene)
{
  const FwPart *part = fw_session_picked (self->session);
  double crank = fw_session_crank (self->session);
  if (part == NULL || part->kind != FW_PART_MEMBER)
    return;
  g_autofree char *at = fw_units_format (crank * DEGREES, FW_UNIT_DEG, FW_LENGTHS_MM, 1);
  add_thing (self, (FwHelpOf) { .kind = FW_HELP_POSE, .quantity = { FW_Q_ANGLE, part->index }, .crank = crank },
             g_strdup_printf (_ ("%s here, at %s of the crank"), scene->mechanism->members[part->index].name, at));
}

static void
add_curves (FwHelpsPage *self, const FwScene *scene)
{
  const FwStripState *strip = fw_session_strip (self->session);
  for (int i = 0; i < strip->n_curves; i++)
    {
      FwQuantity q = strip->curves[i];
      if (q.kind == FW_Q_TORQUE)
        add_thing (self, (FwHelpOf) { .kind = FW_HELP_TORQUE }, g_strdup (_ ("Largest crank torque")));
      if (q.kind >= FW_N_Q_KINDS)
        continue;
      g_autofree char *name = fw_words_quantity (scene->mechanism, q);
      add_thing (self, (FwHelpOf) { .kind = FW_HELP_GREATEST, .quantity = q }, g_strdup_printf (_ ("Highest point: %s"), name));
      add_thing (self, (FwHelpOf) { .kind = FW_HELP_LEAST, .quantity = q }, g_strdup_printf (_ ("Lowest point: %s"), name));
    }
}

static gboolean
same_thing (const FwHelpOf *a, const FwHelpOf *b)
{
  if (a->kind != b->kind)
    return FALSE;
  return a->kind == FW_HELP_TROUBLE || a->kind == FW_HELP_TORQUE
         || (a->quantity.kind == b->quantity.kind && a->quantity.index == b->quantity.index);
}

static const Thing *
page_thing (FwHelpsPage *self)
{
  guint at = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->things));
  return at < self->list->len ? &g_array_index (self->list, Thing, at) : NULL;
}

/* What is in hand stays so while it is there. */
static void
page_list_things (FwHelpsPage *self)
{
  const FwScene *scene = fw_session_scene (self->session);
  FwDocument *doc = fw_session_document (self->session);
  g_autoptr (GtkStringList) words = gtk_string_list_new (NULL);
  const Thing *had = page_thing (self);
  FwHelpOf before = had != NULL ? had->of : (FwHelpOf) { 0 };
  guint chosen = 0;
  gboolean same = TRUE;
  GArray *old = self->list;

  self->document = doc;
  self->serial = doc != NULL ? fw_document_serial (doc) : 0;
  self->list = g_array_new (FALSE, TRUE, sizeof (Thing));
  g_array_set_clear_func (self->list, thing_clear);
  if (scene != NULL && scene->mechanism != NULL)
    {
      add_trouble (self, scene);
      add_panel (self, scene);
      add_curves (self, scene);
    }
  for (guint i = 0; i < self->list->len; i++)
    {
      const Thing *thing = &g_array_index (self->list, Thing, i);
      gtk_string_list_append (words, thing->label);
      if (had != NULL && same_thing (&thing->of, &before))
        chosen = i;
      // NOLINTNEXTLINE(clang-analyzer-core.NullDereference): a list that is not empty has its items
      same = same && i < old->len && g_str_equal (thing->label, g_array_index (old, Thing, i).label);
    }
  same = same && old->len == self->list->len;
  g_array_unref (old);
  self->filling = TRUE;
  if (!same)
    {
      gtk_drop_down_set_model (GTK_DROP_DOWN (self->things), G_LIST_MODEL (words));
      if (self->list->len > 0)
        gtk_drop_down_set_selected (GTK_DROP_DOWN (self->things), chosen);
    }
  self->filling = FALSE;
  gtk_widget_set_visible (self->things, self->list->len > 0);
}

/* ---- The picture ---- */

static void
page_clear_bars (FwHelpsPage *self)
{
  for (int i = 0; i < self->n; i++)
    {
      g_free (self->bars[i].name);
      g_free (self->bars[i].effect);
      g_free (self->bars[i].reach);
    }
  self->n = 0;
  self->marked = -1;
}

static char *
effect_words (const FwHelpOf *of, const FwHelp *help, FwLengths lengths)
{
  const char *symbol = fw_units_symbol (fw_help_unit (of), lengths);
  FwUnit unit = fw_param_unit (help->param);
  const char *per = unit == FW_UNIT_DEG ? C_ ("per", "degree") : fw_units_symbol (unit, lengths);
  const char *about = help->exact ? "" : "≈ ";
  g_autofree char *figure = g_strdup_printf ("%+.2g", fw_help_shown (of, help, lengths));
  if (fw_help_unit (of) == FW_UNIT_DEG)
    /* Translators: "≈ " or nothing, by how much a quantity changes, and for one unit of what: "≈ +0.41° per mm". */
    return g_strdup_printf (_ ("%s%s° per %s"), about, figure, per);
  return symbol[0] != '\0' ? g_strdup_printf (_ ("%s%s %s per %s"), about, figure, symbol, per)
                           : g_strdup_printf (_ ("%s%s per %s"), about, figure, per);
}

/* Ranked as fw_helps () does: a millimetre, a degree, else a hundredth of the value. */
static double
strength (const FwHelp *help)
{
  FwUnit unit = fw_param_unit (help->param);
  return help->effect * (unit == FW_UNIT_MM || unit == FW_UNIT_DEG ? 1 : fabs (help->value) / 100);
}

static void
page_take (FwHelpsPage *self, const FwHelpOf *of, const FwHelps *found)
{
  const FwDesign *design = fw_document_design (fw_session_document (self->session));
  FwLengths lengths = fw_session_lengths (self->session);
  double most = found->n > 0 ? fabs (strength (&found->list[0])) : 1;
  page_clear_bars (self);
  for (int i = 0; i < found->n; i++)
    {
      const FwHelp *help = &found->list[i];
      FwUnit unit = fw_param_unit (help->param);
      if (i >= SURELY && fabs (strength (help)) < FAINT * most)
        break;
      g_autofree char *from = fw_units_format (help->from, unit, lengths, 0), *to = fw_units_format (help->to, unit, lengths, 0);
      FwHelpBar *bar = &self->bars[self->n];
      *bar = (FwHelpBar) { .name = fw_param_label (design, help->param), .effect = effect_words (of, help, lengths), .exact = help->exact,
                           .share = most > 0 ? strength (help) / most : 0, .value = help->value, .from = help->from, .to = help->to,
                           .from_open = help->from_open, .to_open = help->to_open };
      if (help->has_reach)
        bar->reach = g_strdup_printf (_ ("free from %s to %s"), from, to);
      fw_param_range (design, help->param, &bar->lower, &bar->upper);
      self->params[self->n++] = help->param;
    }
}

static void
page_title (FwHelpsPage *self, const FwHelpOf *of, double value)
{
  FwUnit unit = fw_help_unit (of);
  g_autofree char *figure = fw_units_format (value, unit, fw_session_lengths (self->session), 2);
  g_autofree char *words = isnan (value) ? g_strdup (_ ("It cannot be told: it is not assembled there."))
                           : of->kind != FW_HELP_TROUBLE ? g_strdup_printf (_ ("Now %s."), figure)
                           : fw_help_better (&of->trouble) > 0 ? g_strdup_printf (_ ("Now %s; more is better."), figure)
                                                               : g_strdup_printf (_ ("Now %s; less is better."), figure);
  gtk_label_set_text (GTK_LABEL (self->title), words);
}

static void
page_describe (FwHelpsPage *self)
{
  GString *words = g_string_new (NULL);
  for (int i = 0; i < self->n; i++)
    {
      const FwHelpBar *bar = &self->bars[i];
      g_string_append_printf (words, bar->reach != NULL ? _ ("%s: %s, %s. ") : _ ("%s: %s. "), bar->name, bar->effect, bar->reach);
    }
  fw_widget_describe (self->plot, _ ("What helps, strongest first"), words->str);
  g_string_free (words, TRUE);
}

static void
page_update (FwHelpsPage *self)
{
  FwDocument *doc = fw_session_document (self->session);
  const Thing *thing = page_thing (self);
  FwStyle style = page_style (self);
  if (doc != NULL && fw_document_serial (doc) != self->serial)
    return; /* its parts may be others by now: comes again with a new list */
  if (doc == NULL || thing == NULL)
    {
      page_clear_bars (self);
      gtk_label_set_text (GTK_LABEL (self->title), _ ("Pick a trouble or a panel, or put a curve on the strip."));
      gtk_widget_set_visible (self->plot, FALSE);
      gtk_widget_set_visible (self->note, FALSE);
      gtk_spinner_set_spinning (GTK_SPINNER (self->spinner), FALSE);
      return;
    }
  const FwHelps *found = fw_helps_job_ask (self->job, fw_document_design (doc), fw_document_serial (doc), &thing->of);
  gtk_spinner_set_spinning (GTK_SPINNER (self->spinner), found == NULL);
  gtk_widget_set_visible (self->spinner, found == NULL);
  gtk_widget_set_sensitive (self->plot, found != NULL);
  if (found == NULL)
    return;
  page_take (self, &thing->of, found);
  page_title (self, &thing->of, found->value);
  gtk_widget_set_size_request (self->plot, -1, (int) ceil (self->n * fw_helps_row_height (&style)));
  gtk_widget_set_visible (self->plot, self->n > 0);
  gtk_widget_set_visible (self->note, TRUE);
  gtk_label_set_text (GTK_LABEL (self->note),
                      self->n == 0              ? _ ("No number moves it by itself.")
                      : self->bars[0].exact     ? _ ("Filled bars are exact derivatives. The scale beside shows how far the number can go "
                                                      "before there is new trouble. Press a row to go to its number.")
                                                : _ ("Hatched bars are differences of the exact solution. The scale beside shows how far the "
                                                      "number can go before there is new trouble. Press a row to go to its number."));
  page_describe (self);
  gtk_widget_queue_draw (self->plot);
}

/* Which trouble was picked is known again with the turn; until then the old picture stands. */
static gboolean
page_waits (FwHelpsPage *self)
{
  FwDocument *doc = fw_session_document (self->session);
  return doc != NULL && doc == self->document && !fw_session_turn_is_known (self->session);
}

static gboolean
on_rest (gpointer data)
{
  FwHelpsPage *self = data;
  self->rest = 0;
  if (!gtk_widget_get_mapped (GTK_WIDGET (self)) || page_waits (self))
    return G_SOURCE_REMOVE;
  page_list_things (self);
  page_update (self);
  return G_SOURCE_REMOVE;
}

/* While a hand drags, or the crank turns, the old picture stands. */
static void
page_update_soon (FwHelpsPage *self)
{
  if (!gtk_widget_get_mapped (GTK_WIDGET (self)))
    return;
  g_clear_handle_id (&self->rest, g_source_remove);
  self->rest = g_timeout_add (REST_MS, on_rest, self);
}

static void
on_pose (FwHelpsPage *self)
{
  const Thing *thing = page_thing (self);
  if (thing == NULL || thing->of.kind == FW_HELP_POSE || fw_session_picked (self->session) != NULL)
    page_update_soon (self);
}

static void
on_arrived (gpointer data)
{
  page_update (data);
}

static void
on_thing (FwHelpsPage *self)
{
  if (!self->filling)
    page_update (self);
}

/* ---- Mouse and keys ---- */

static void
on_paint (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  FwHelpsPage *self = data;
  FwStyle style = page_style (self);
  int marked = gtk_widget_has_focus (self->plot) || self->marked >= 0 ? self->marked : -1;
  fw_draw_helps (cr, &style, (FwBox) { 0, 0, width, height }, self->bars, self->n, marked);
}

static void
page_mark (FwHelpsPage *self, int row)
{
  if (self->marked == row)
    return;
  self->marked = row;
  if (row >= 0 && row < self->n)
    {
      g_autofree char *words = g_strdup_printf (C_ ("number", "%s: %s"), self->bars[row].name, self->bars[row].effect);
      gtk_accessible_update_property (GTK_ACCESSIBLE (self->plot), GTK_ACCESSIBLE_PROPERTY_VALUE_TEXT, words, -1);
    }
  gtk_widget_queue_draw (self->plot);
}

static void
page_go (FwHelpsPage *self, int row)
{
  int n;
  const FwParam *params = fw_session_params (self->session, &n);
  for (int i = 0; row >= 0 && row < self->n && i < n; i++)
    if (fw_param_equal (params[i], self->params[row]))
      {
        g_signal_emit (self, signal_number, 0, (guint) i);
        return;
      }
}

static int
row_at (FwHelpsPage *self, double x, double y)
{
  FwStyle style = page_style (self);
  return fw_helps_row_at (&style, plot_box (self), self->n, x, y);
}

static void
on_motion (GtkEventControllerMotion *controller, double x, double y, FwHelpsPage *self)
{
  page_mark (self, row_at (self, x, y));
}

static void
on_leave (FwHelpsPage *self)
{
  page_mark (self, -1);
}

static void
on_released (GtkGestureClick *gesture, int n_press, double x, double y, FwHelpsPage *self)
{
  page_go (self, row_at (self, x, y));
}

static gboolean
on_key (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, FwHelpsPage *self)
{
  if (self->n == 0 || (state & (GDK_ALT_MASK | GDK_CONTROL_MASK)))
    return GDK_EVENT_PROPAGATE;
  if (keyval == GDK_KEY_Down || keyval == GDK_KEY_KP_Down)
    page_mark (self, MIN (self->marked + 1, self->n - 1));
  else if (keyval == GDK_KEY_Up || keyval == GDK_KEY_KP_Up)
    page_mark (self, MAX (self->marked - 1, 0));
  else if ((keyval == GDK_KEY_Return || keyval == GDK_KEY_KP_Enter) && self->marked >= 0)
    page_go (self, self->marked);
  else
    return GDK_EVENT_PROPAGATE;
  return GDK_EVENT_STOP;
}

/* ---- Object ---- */

static void
helps_page_dispose (GObject *object)
{
  FwHelpsPage *self = FW_HELPS_PAGE (object);

  g_clear_handle_id (&self->rest, g_source_remove);
  g_clear_pointer (&self->job, fw_helps_job_free);
  self->filling = TRUE;
  fw_widget_drop_children (GTK_WIDGET (self));
  page_clear_bars (self);
  g_clear_pointer (&self->list, g_array_unref);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (fw_helps_page_parent_class)->dispose (object);
}

static void
fw_helps_page_class_init (FwHelpsPageClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = helps_page_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "helps-page");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  signal_number = g_signal_new ("number", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_UINT);
}

static void
fw_helps_page_init (FwHelpsPage *self)
{
  fw_widget_style_add ();
  fw_widget_describe (GTK_WIDGET (self), _ ("What helps"), NULL);
  self->list = g_array_new (FALSE, TRUE, sizeof (Thing));
  g_array_set_clear_func (self->list, thing_clear);
  self->marked = -1;
}

static GtkWidget *
page_plot (FwHelpsPage *self)
{
  GtkWidget *plot = g_object_new (GTK_TYPE_DRAWING_AREA, "accessible-role", GTK_ACCESSIBLE_ROLE_IMG, "focusable", TRUE, NULL);
  GtkEventController *motion = gtk_event_controller_motion_new (), *keys = gtk_event_controller_key_new ();
  GtkEventController *focus = gtk_event_controller_focus_new ();
  GtkGesture *click = gtk_gesture_click_new ();

  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (plot), on_paint, self, NULL);
  gtk_widget_set_cursor_from_name (plot, "pointer");
  fw_widget_describe (plot, _ ("What helps, strongest first"), NULL);
  g_signal_connect (motion, "motion", G_CALLBACK (on_motion), self);
  g_signal_connect_swapped (motion, "leave", G_CALLBACK (on_leave), self);
  g_signal_connect (click, "released", G_CALLBACK (on_released), self);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_key), self);
  g_signal_connect_swapped (focus, "leave", G_CALLBACK (on_leave), self);
  gtk_widget_add_controller (plot, motion);
  gtk_widget_add_controller (plot, GTK_EVENT_CONTROLLER (click));
  gtk_widget_add_controller (plot, keys);
  gtk_widget_add_controller (plot, focus);
  return plot;
}

static void
page_add_children (FwHelpsPage *self)
{
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12), *scroller = gtk_scrolled_window_new ();
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkExpression *words = gtk_property_expression_new (GTK_TYPE_STRING_OBJECT, NULL, "string");

  gtk_widget_add_css_class (column, "aim-column");
  self->things = gtk_drop_down_new (NULL, words);
  fw_widget_describe (self->things, _ ("What is in hand"), NULL);
  gtk_widget_set_tooltip_text (self->things, _ ("What is in hand: the picked trouble or panel, or a point of a curve on the strip"));
  g_signal_connect_swapped (self->things, "notify::selected", G_CALLBACK (on_thing), self);
  self->title = gtk_label_new ("");
  gtk_label_set_wrap (GTK_LABEL (self->title), TRUE);
  gtk_label_set_xalign (GTK_LABEL (self->title), 0);
  gtk_widget_set_hexpand (self->title, TRUE);
  self->spinner = gtk_spinner_new ();
  self->plot = page_plot (self);
  self->note = fw_note_label ("");
  gtk_widget_add_css_class (self->note, "dim-label");
  gtk_box_append (GTK_BOX (row), self->title);
  gtk_box_append (GTK_BOX (row), fw_explain_button_new (self->session, column, fw_explain_find ("helps"), FALSE));
  gtk_box_append (GTK_BOX (row), self->spinner);
  gtk_box_append (GTK_BOX (column), self->things);
  gtk_box_append (GTK_BOX (column), row);
  gtk_box_append (GTK_BOX (column), self->plot);
  gtk_box_append (GTK_BOX (column), self->note);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  fw_widget_describe (scroller, _ ("What helps"), NULL);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), column);
  gtk_widget_set_parent (scroller, GTK_WIDGET (self));
}

GtkWidget *
fw_helps_page_new (FwSession *session)
{
  FwHelpsPage *self = g_object_new (FW_TYPE_HELPS_PAGE, NULL);
  static const char *const names[] = { "design-changed", "display-changed", "picked-changed" };

  self->session = g_object_ref (session);
  self->job = fw_helps_job_new (on_arrived, self);
  page_add_children (self);
  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    g_signal_connect_object (session, names[i], G_CALLBACK (page_update_soon), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "pose-changed", G_CALLBACK (on_pose), self, G_CONNECT_SWAPPED);
  g_signal_connect (self, "map", G_CALLBACK (page_update_soon), NULL);
  return GTK_WIDGET (self);
}

void
fw_helps_page_focus (FwHelpsPage *self)
{
  g_return_if_fail (FW_IS_HELPS_PAGE (self));
  gtk_widget_grab_focus (self->things);
}

void
fw_helps_page_take_trouble (FwHelpsPage *self)
{
  g_return_if_fail (FW_IS_HELPS_PAGE (self));
  if (page_waits (self))
    return;
  page_list_things (self);
  if (self->list->len > 0 && g_array_index (self->list, Thing, 0).of.kind == FW_HELP_TROUBLE)
    gtk_drop_down_set_selected (GTK_DROP_DOWN (self->things), 0);
}
