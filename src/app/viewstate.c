#include "app/viewstate.h"

#include <math.h>

#include "app/windowprivate.h"

#define HEADER 48 /* px, about: of the bar on top */
#define TABS 40   /* px, about: above the margin's pages */
#define MARGIN_LEAST 340
#define MARGIN_MOST 480
#define STRIP_LEAST 200
#define STRIP_MOST 440
#define MOST_SIZE 16384
#define MOST_DESIGNS 60

typedef struct
{
  int width, height; /* px, of the window */
  gboolean maximized;
  int margin_width, strip_height;    /* px; 0: as suits the window */
  double front_share, numbers_share; /* 0..1 */
} Layout;

/* ---- Stored ---- */

static Layout
layout_last (GSettings *state)
{
  return (Layout) {
    .width = g_settings_get_int (state, "width"),
    .height = g_settings_get_int (state, "height"),
    .maximized = g_settings_get_boolean (state, "maximized"),
    .margin_width = g_settings_get_int (state, "margin-width"),
    .strip_height = g_settings_get_int (state, "strip-height"),
    .front_share = g_settings_get_double (state, "front-share"),
    .numbers_share = g_settings_get_double (state, "numbers-share"),
  };
}

static void
layout_store (const Layout *layout, GSettings *state)
{
  g_settings_set_int (state, "width", layout->width);
  g_settings_set_int (state, "height", layout->height);
  g_settings_set_boolean (state, "maximized", layout->maximized);
  g_settings_set_int (state, "margin-width", layout->margin_width);
  g_settings_set_int (state, "strip-height", layout->strip_height);
  g_settings_set_double (state, "front-share", layout->front_share);
  g_settings_set_double (state, "numbers-share", layout->numbers_share);
}

/* What is remembered of the design; NULL: nothing. Unknown words in it are passed over. */
static GVariant *
design_find (GSettings *state, const char *path)
{
  g_autoptr (GVariant) views = g_settings_get_value (state, "views");
  GVariantIter iter;
  GVariant *known;
  const char *of;

  g_variant_iter_init (&iter, views);
  while (g_variant_iter_next (&iter, "(^&ay@a{sv})", &of, &known))
    {
      if (g_str_equal (of, path))
        return known;
      g_variant_unref (known);
    }
  return NULL;
}

static void
take_size (GVariant *known, const char *key, int least, int *size)
{
  int found;
  if (g_variant_lookup (known, key, "i", &found) && found >= least && found <= MOST_SIZE)
    *size = found;
}

static void
take_share (GVariant *known, const char *key, double *share)
{
  double found;
  if (g_variant_lookup (known, key, "d", &found) && found >= 0 && found <= 1)
    *share = found;
}

static void
layout_of_design (GVariant *known, Layout *layout)
{
  take_size (known, "width", 640, &layout->width);
  take_size (known, "height", 400, &layout->height);
  g_variant_lookup (known, "maximized", "b", &layout->maximized);
  take_size (known, "margin-width", 0, &layout->margin_width);
  take_size (known, "strip-height", 0, &layout->strip_height);
  take_share (known, "front-share", &layout->front_share);
  take_share (known, "numbers-share", &layout->numbers_share);
}

static GVariant *
design_entry (FwWindow *self, const Layout *layout)
{
  g_autoptr (GVariant) view = g_action_group_get_action_state (G_ACTION_GROUP (self), "view");
  const char *page = gtk_stack_get_visible_child_name (GTK_STACK (self->margin_stack));
  GVariantDict entry;

  g_variant_dict_init (&entry, NULL);
  g_variant_dict_insert (&entry, "view", "s", g_variant_get_string (view, NULL));
  g_variant_dict_insert (&entry, "page", "s", page != NULL ? page : "");
  g_variant_dict_insert (&entry, "crank", "d", fw_session_crank (self->session) * 180 / G_PI);
  g_variant_dict_insert (&entry, "width", "i", layout->width);
  g_variant_dict_insert (&entry, "height", "i", layout->height);
  g_variant_dict_insert (&entry, "maximized", "b", layout->maximized);
  g_variant_dict_insert (&entry, "margin-width", "i", layout->margin_width);
  g_variant_dict_insert (&entry, "strip-height", "i", layout->strip_height);
  g_variant_dict_insert (&entry, "front-share", "d", layout->front_share);
  g_variant_dict_insert (&entry, "numbers-share", "d", layout->numbers_share);
  return g_variant_dict_end (&entry);
}

/* On top of the others. */
static void
design_store (GSettings *state, const char *path, GVariant *entry)
{
  g_autoptr (GVariant) views = g_settings_get_value (state, "views");
  GVariantBuilder list;
  GVariantIter iter;
  GVariant *known;
  const char *of;
  int n = 1;

  g_variant_builder_init (&list, G_VARIANT_TYPE ("a(aya{sv})"));
  g_variant_builder_add (&list, "(^ay@a{sv})", path, entry);
  g_variant_iter_init (&iter, views);
  while (g_variant_iter_next (&iter, "(^&ay@a{sv})", &of, &known))
    {
      if (!g_str_equal (of, path) && n++ < MOST_DESIGNS)
        g_variant_builder_add (&list, "(^ay@a{sv})", of, known);
      g_variant_unref (known);
    }
  g_settings_set_value (state, "views", g_variant_builder_end (&list));
}

/* ---- In the window ---- */

static int
margin_that_suits (int width)
{
  return CLAMP (width * 24 / 100, MARGIN_LEAST, MARGIN_MOST);
}

static int
strip_that_suits (int height)
{
  return CLAMP (height * 28 / 100, STRIP_LEAST, STRIP_MOST);
}

/* The dividers for a size the window is about to have; nothing is clipped if it gets another one: what is
 * below and at the right keeps its room. */
static void
place_dividers (FwWindow *self, const Layout *layout, int width, int height)
{
  int margin = layout->margin_width > 0 ? layout->margin_width : margin_that_suits (width);
  int strip = layout->strip_height > 0 ? layout->strip_height : strip_that_suits (height);
  int body = height - HEADER, views = MAX (width - margin, 0);

  gtk_paned_set_position (GTK_PANED (self->outer_split), views);
  gtk_paned_set_position (GTK_PANED (self->upright_split), MAX (body - strip, 0));
  gtk_paned_set_position (GTK_PANED (self->margin_split), (int) lround ((body - TABS) * layout->numbers_share));
  gtk_paned_set_position (GTK_PANED (self->views_split), (int) lround (views * layout->front_share));
}

void
fw_view_state_lay_out (FwWindow *self, const char *path)
{
  GSettings *state = fw_window_settings (self)->state;
  g_autoptr (GVariant) known = path != NULL ? design_find (state, path) : NULL;
  Layout layout = layout_last (state);

  if (known != NULL)
    layout_of_design (known, &layout);
  gtk_window_set_default_size (GTK_WINDOW (self), layout.width, layout.height);
  int least_width, least_height; /* a smaller window than that there is none: it would be the strip that grows */
  gtk_widget_measure (GTK_WIDGET (self), GTK_ORIENTATION_HORIZONTAL, -1, &least_width, NULL, NULL, NULL);
  gtk_widget_measure (GTK_WIDGET (self), GTK_ORIENTATION_VERTICAL, -1, &least_height, NULL, NULL, NULL);
  place_dividers (self, &layout, MAX (layout.width, least_width), MAX (layout.height, least_height));
  if (layout.maximized)
    gtk_window_maximize (GTK_WINDOW (self));
}

void
fw_view_state_place_dividers (FwWindow *self)
{
  const char *path = fw_session_path (self->session);
  GSettings *state = fw_window_settings (self)->state;
  g_autoptr (GVariant) known = path != NULL ? design_find (state, path) : NULL;
  Layout layout = layout_last (state);

  if (known != NULL)
    layout_of_design (known, &layout);
  place_dividers (self, &layout, gtk_widget_get_width (GTK_WIDGET (self)), gtk_widget_get_height (GTK_WIDGET (self)));
}

/* By the same measures as they are placed by, so that nothing creeps from one start to the next. */
static Layout
layout_of_window (FwWindow *self)
{
  Layout layout = layout_last (fw_window_settings (self)->state);
  layout.maximized = gtk_window_is_maximized (GTK_WINDOW (self));
  int width = gtk_widget_get_width (GTK_WIDGET (self)), height = gtk_widget_get_height (GTK_WIDGET (self));
  if (!layout.maximized)
    {
      gtk_window_get_default_size (GTK_WINDOW (self), &width, &height);
      layout.width = width;
      layout.height = height;
    }
  int body = height - HEADER, views = gtk_paned_get_position (GTK_PANED (self->outer_split));
  int margin = width - views, strip = body - gtk_paned_get_position (GTK_PANED (self->upright_split));
  layout.margin_width = margin == margin_that_suits (width) ? 0 : CLAMP (margin, 0, MOST_SIZE);
  layout.strip_height = strip == strip_that_suits (height) ? 0 : CLAMP (strip, 0, MOST_SIZE);
  if (views > 0)
    layout.front_share = CLAMP (gtk_paned_get_position (GTK_PANED (self->views_split)) / (double) views, 0, 1);
  if (body > TABS)
    layout.numbers_share = CLAMP (gtk_paned_get_position (GTK_PANED (self->margin_split)) / (double) (body - TABS), 0, 1);
  return layout;
}

void
fw_view_state_keep (FwWindow *self)
{
  FwSettings *settings = fw_window_settings (self);
  const char *path = fw_session_path (self->session);

  if (!gtk_widget_get_mapped (GTK_WIDGET (self))) /* not laid out: it has nothing to tell */
    return;
  Layout layout = layout_of_window (self);
  layout_store (&layout, settings->state);
  if (path != NULL)
    design_store (settings->state, path, design_entry (self, &layout));
  fw_settings_keep_soon (settings);
}

void
fw_view_state_take_up (FwWindow *self)
{
  const char *path = fw_session_path (self->session);
  g_autoptr (GVariant) known = path != NULL ? design_find (fw_window_settings (self)->state, path) : NULL;
  const char *word;
  double crank;

  if (known == NULL)
    return;
  if (g_variant_lookup (known, "view", "&s", &word))
    g_action_group_change_action_state (G_ACTION_GROUP (self), "view", g_variant_new_string (word));
  if (g_variant_lookup (known, "page", "&s", &word)
      && gtk_stack_get_child_by_name (GTK_STACK (self->margin_stack), word) != NULL)
    gtk_stack_set_visible_child_name (GTK_STACK (self->margin_stack), word);
  if (g_variant_lookup (known, "crank", "d", &crank) && isfinite (crank))
    fw_session_set_crank (self->session, crank * G_PI / 180);
}
