/* Printed parts: what there is to print, each to be turned about and looked at. */
#include "app/workshopprivate.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/explain.h"
#include "app/widgetstyle.h"
#include "shop/meshdraw.h"
#include "shop/solidwrite.h"

#define FIRST_YAW 30.0
#define FIRST_PITCH 28.0
#define KEY_STEP 10.0
#define DEGREES_PER_PX 0.5

typedef struct
{
  FwWorkshop *workshop; /* borrowed: it holds the page */
  GtkWidget *caution, *list, *preview, *name, *words, *sum;
  char *chosen; /* letter and name of the part in sight, so that it stays when all is made anew */
  int part;     /* -1: none */
  FwMesh *mesh; /* as it is printed; owned */
  double yaw_deg, pitch_deg, from_yaw, from_pitch;
} PartsPage;

static PartsPage *
page_of (GtkWidget *widget)
{
  return g_object_get_data (G_OBJECT (widget), "parts-page");
}

static void
page_free (gpointer data)
{
  PartsPage *self = data;
  fw_mesh_free (self->mesh);
  g_free (self->chosen);
  g_free (self);
}

/* ---- The part in sight ---- */

static void
preview_paint (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  const PartsPage *self = data;
  FwStyle style = fw_workshop_style (self->workshop, 1);
  const FwMeshView view = { .yaw_deg = self->yaw_deg, .pitch_deg = self->pitch_deg,
                            .box = { 24, 24, width - 48, height - 48 } };
  if (self->mesh != NULL && width > 60 && height > 60)
    fw_mesh_draw (cr, self->mesh, &view, &style);
}

static void
preview_turn (PartsPage *self, double yaw_deg, double pitch_deg)
{
  self->yaw_deg = remainder (yaw_deg, 360);
  self->pitch_deg = CLAMP (pitch_deg, -90, 90);
  gtk_widget_queue_draw (self->preview);
}

static void
on_drag_begin (PartsPage *self)
{
  self->from_yaw = self->yaw_deg;
  self->from_pitch = self->pitch_deg;
  gtk_widget_grab_focus (self->preview);
}

static void
on_drag (GtkGestureDrag *gesture, double dx, double dy, PartsPage *self)
{
  preview_turn (self, self->from_yaw - dx * DEGREES_PER_PX, self->from_pitch + dy * DEGREES_PER_PX);
}

static gboolean
on_key (GtkEventControllerKey *controller, guint key, guint code, GdkModifierType mods, PartsPage *self)
{
  if ((mods & (GDK_CONTROL_MASK | GDK_ALT_MASK)) != 0)
    return GDK_EVENT_PROPAGATE;
  switch (key)
    {
    case GDK_KEY_Left:
      preview_turn (self, self->yaw_deg - KEY_STEP, self->pitch_deg);
      return GDK_EVENT_STOP;
    case GDK_KEY_Right:
      preview_turn (self, self->yaw_deg + KEY_STEP, self->pitch_deg);
      return GDK_EVENT_STOP;
    case GDK_KEY_Up:
      preview_turn (self, self->yaw_deg, self->pitch_deg + KEY_STEP);
      return GDK_EVENT_STOP;
    case GDK_KEY_Down:
      preview_turn (self, self->yaw_deg, self->pitch_deg - KEY_STEP);
      return GDK_EVENT_STOP;
    case GDK_KEY_Home:
      preview_turn (self, FIRST_YAW, FIRST_PITCH);
      return GDK_EVENT_STOP;
    default:
      return GDK_EVENT_PROPAGATE;
    }
}

static char *
part_words (const FwSolidPart *part, FwLengths lengths)
{
  if (part->mesh == NULL)
    return g_strdup (part->problem);
  g_autofree char *size = fw_solid_size_words (part, lengths);
  /* Translators: size; volume; how it lies on the printer's bed; what it fits */
  return g_strdup_printf (_("%s, %.2f cm³ each\nPrint %s.\n%s"), size, part->volume_mm3 / 1000, part->lie, part->note);
}

static void
show_part (PartsPage *self, int nth)
{
  const FwLaid *laid = fw_workshop_laid (self->workshop);
  g_clear_pointer (&self->mesh, fw_mesh_free);
  self->part = laid != NULL && nth >= 0 && nth < fw_laid_solids (laid)->n_parts ? nth : -1;
  gtk_widget_queue_draw (self->preview);
  if (self->part < 0)
    {
      gtk_label_set_text (GTK_LABEL (self->name), _("Nothing to print"));
      gtk_label_set_text (GTK_LABEL (self->words), "");
      return;
    }
  const FwSolidPart *part = &fw_laid_solids (laid)->parts[nth];
  g_autofree char *words = part_words (part, laid->order.lengths);
  /* Translators: a part's letter and name; how many of it are printed */
  g_autofree char *name = g_strdup_printf (C_ ("a printed part", "%s  %s, %d ×"), part->letter, part->name, part->count);
  /* Translators: of a printed part that can be turned about */
  g_autofree char *seen = g_strdup_printf (_("%s, turned with the arrow keys"), part->name);
  self->mesh = part->mesh != NULL ? fw_solid_part_laid (part) : NULL;
  gtk_label_set_text (GTK_LABEL (self->name), name);
  gtk_label_set_text (GTK_LABEL (self->words), words);
  fw_widget_describe (self->preview, seen, words);
  g_free (self->chosen);
  self->chosen = g_strconcat (part->letter, " ", part->name, NULL);
}

/* ---- The list ---- */

static void
on_row (GtkListBox *list, GtkListBoxRow *row, PartsPage *self)
{
  if (row != NULL)
    show_part (self, gtk_list_box_row_get_index (row));
}

static GtkWidget *
row_new (const FwSolidPart *part, FwLengths lengths)
{
  GtkWidget *row = gtk_list_box_row_new (), *grid = gtk_grid_new ();
  GtkWidget *letter = gtk_label_new (part->letter), *name = gtk_label_new (part->name);
  g_autofree char *count = g_strdup_printf (C_ ("how many are made", "%d ×"), part->count);
  GtkWidget *many = gtk_label_new (count);
  g_autofree char *size = part->mesh != NULL ? fw_solid_size_words (part, lengths) : g_strdup (_("cannot be made as it stands"));
  GtkWidget *below = fw_note_label (size);

  gtk_grid_set_column_spacing (GTK_GRID (grid), 12);
  gtk_widget_add_css_class (letter, "fw-letter");
  gtk_label_set_width_chars (GTK_LABEL (letter), 3);
  gtk_label_set_xalign (GTK_LABEL (name), 0);
  gtk_label_set_wrap (GTK_LABEL (name), TRUE);
  gtk_widget_set_hexpand (name, TRUE);
  gtk_widget_add_css_class (below, "fw-faint");
  gtk_grid_attach (GTK_GRID (grid), letter, 0, 0, 1, 1);
  gtk_grid_attach (GTK_GRID (grid), name, 1, 0, 1, 1);
  gtk_grid_attach (GTK_GRID (grid), many, 2, 0, 1, 1);
  gtk_grid_attach (GTK_GRID (grid), below, 1, 1, 2, 1);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), grid);
  g_autofree char *said = g_strdup_printf (C_ ("a printed part", "%s %s, %d ×"), part->letter, part->name, part->count);
  fw_widget_describe (row, said, size);
  return row;
}

static void
tell_sum (PartsPage *self, const FwSolidParts *solids)
{
  double volume = 0;
  int n = 0;
  for (int i = 0; i < solids->n_parts; i++)
    if (solids->parts[i].mesh != NULL)
      {
        volume += solids->parts[i].volume_mm3 * solids->parts[i].count;
        n += solids->parts[i].count;
      }
  g_autofree char *text = g_strdup_printf (ngettext ("%d part, %.1f cm³ solid", "%d parts, %.1f cm³ solid", (gulong) n), n, volume / 1000);
  gtk_label_set_text (GTK_LABEL (self->sum), text);
}

static void
on_laid (GtkWidget *page, const FwLaid *laid)
{
  PartsPage *self = page_of (page);
  const FwSolidParts *solids = fw_laid_solids (laid);
  g_autoptr (GPtrArray) problems = g_ptr_array_new ();
  g_autofree char *chosen = g_strdup (self->chosen);
  int select = 0;
  GtkListBoxRow *row;

  while ((row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), 0)) != NULL)
    gtk_list_box_remove (GTK_LIST_BOX (self->list), GTK_WIDGET (row));
  for (int i = 0; i < solids->n_parts; i++)
    {
      const FwSolidPart *part = &solids->parts[i];
      g_autofree char *known = g_strconcat (part->letter, " ", part->name, NULL);
      gtk_list_box_append (GTK_LIST_BOX (self->list), row_new (part, laid->order.lengths));
      if (part->problem != NULL)
        g_ptr_array_add (problems, part->problem);
      if (g_strcmp0 (known, chosen) == 0)
        select = i;
    }
  fw_workshop_caution_set (self->caution, (char *const *) problems->pdata, (int) problems->len);
  tell_sum (self, solids);
  show_part (self, select);
  gtk_list_box_select_row (GTK_LIST_BOX (self->list), gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), select));
}

static void
on_display (GtkWidget *page, FwWorkshop *workshop)
{
  gtk_widget_queue_draw (page_of (page)->preview);
}

/* ---- Out ---- */

static gboolean
write_parts (const FwLaid *laid, const char *path, const FwProgress *progress, char **done, GError **error)
{
  const FwSolidParts *solids = fw_laid_solids (laid);
  if (solids->n_parts == solids->n_problems)
    {
      g_set_error_literal (error, FW_DOC_ERROR, FW_DOC_ERROR_INVALID, _("This design has no part that can be printed"));
      return FALSE;
    }
  g_auto (GStrv) files = fw_solid_parts_write (solids, laid->title, path, progress, error);
  if (files == NULL)
    return FALSE;
  g_autofree char *name = g_filename_display_name (path);
  guint n = g_strv_length (files);
  /* Translators: how many files, the folder, the file with all parts */
  *done = g_strdup_printf (ngettext ("Saved: %u file in %s; %s holds all parts", "Saved: %u files in %s; %s holds all parts", n), n, name,
                           FW_SOLID_ALL_FILE);
  return TRUE;
}

static void
on_export (PartsPage *self)
{
  const FwWorkshopExport what = { .title = _("Folder for the printed parts"), .write = write_parts };
  fw_workshop_export (self->workshop, &what);
}

/* ---- The page ---- */

static GtkWidget *
preview_new (PartsPage *self)
{
  GtkGesture *drag = gtk_gesture_drag_new ();
  GtkEventController *keys = gtk_event_controller_key_new ();

  self->preview = g_object_new (GTK_TYPE_DRAWING_AREA, "accessible-role", GTK_ACCESSIBLE_ROLE_IMG, NULL);
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (self->preview), preview_paint, self, NULL);
  gtk_widget_set_focusable (self->preview, TRUE);
  gtk_widget_set_vexpand (self->preview, TRUE);
  gtk_widget_set_hexpand (self->preview, TRUE);
  gtk_widget_add_css_class (self->preview, "part-preview");
  g_signal_connect_swapped (drag, "drag-begin", G_CALLBACK (on_drag_begin), self);
  g_signal_connect (drag, "drag-update", G_CALLBACK (on_drag), self);
  gtk_widget_add_controller (self->preview, GTK_EVENT_CONTROLLER (drag));
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_key), self);
  gtk_widget_add_controller (self->preview, keys);
  return self->preview;
}

static GtkWidget *
parts_sight (PartsPage *self)
{
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);

  gtk_box_append (GTK_BOX (column), preview_new (self));
  self->name = gtk_label_new (NULL);
  self->words = gtk_label_new (NULL);
  gtk_label_set_xalign (GTK_LABEL (self->name), 0);
  gtk_widget_add_css_class (self->name, "fw-heading");
  gtk_label_set_xalign (GTK_LABEL (self->words), 0);
  gtk_label_set_wrap (GTK_LABEL (self->words), TRUE);
  gtk_label_set_selectable (GTK_LABEL (self->words), TRUE);
  gtk_box_append (GTK_BOX (column), fw_explain_heading (fw_workshop_session (self->workshop), self->name, fw_explain_find ("fit")));
  gtk_box_append (GTK_BOX (column), self->words);
  gtk_widget_add_css_class (column, "shop-column");
  return column;
}

GtkWidget *
fw_workshop_parts_new (FwWorkshop *workshop)
{
  static const FwWorkshopPage calls = { on_laid, on_display };
  PartsPage *self = g_new0 (PartsPage, 1);
  GtkWidget *page = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0), *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  GtkWidget *foot = fw_workshop_foot (), *scroller = gtk_scrolled_window_new ();

  g_object_set_data_full (G_OBJECT (page), "parts-page", self, page_free);
  fw_workshop_page_set (page, &calls);
  *self = (PartsPage) { .workshop = workshop, .part = -1, .yaw_deg = FIRST_YAW, .pitch_deg = FIRST_PITCH };
  self->caution = fw_workshop_caution ();
  self->list = gtk_list_box_new ();
  gtk_widget_add_css_class (self->list, "shop-list");
  fw_widget_describe (self->list, _("Printed parts"), NULL);
  g_signal_connect (self->list, "row-selected", G_CALLBACK (on_row), self);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  fw_widget_describe (scroller, _ ("Printed parts"), NULL);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), self->list);
  gtk_widget_set_size_request (scroller, 330, -1);
  gtk_widget_set_vexpand (row, TRUE);
  gtk_box_append (GTK_BOX (row), scroller);
  gtk_box_append (GTK_BOX (row), gtk_separator_new (GTK_ORIENTATION_VERTICAL));
  gtk_box_append (GTK_BOX (row), parts_sight (self));
  self->sum = gtk_label_new (NULL);
  gtk_widget_add_css_class (self->sum, "fw-faint");
  gtk_box_append (GTK_BOX (foot), self->sum);
  fw_workshop_foot_gap (foot);
  fw_workshop_foot_button (foot, _("Export _3MF and STL…"), G_CALLBACK (on_export), self);
  gtk_box_append (GTK_BOX (page), self->caution);
  gtk_box_append (GTK_BOX (page), row);
  fw_workshop_page_set_first (page, self->preview);
  gtk_box_append (GTK_BOX (page), foot);
  return page;
}
