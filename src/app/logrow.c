#include "app/logrow.h"

#include <glib/gi18n.h>

#include "app/controls.h"
#include "app/logreader.h"
#include "app/widgetstyle.h"

#define FEW_LINES 8
#define WIDEST FW_LOG_STRIP_WIDTH
#define GAP 24
#define PHOTOS_IN_ROW 4

struct _FwLogRow
{
  GtkWidget parent_instance;

  GtkWidget *column, *heading, *edit, *back, *remove, *add, *note, *photos, *strip, *halves, *did_half;
  GtkWidget *changes, *effects, *troubles, *unfold;
  FwLogItem *item; /* owned; NULL */
  gulong handler;
};

G_DEFINE_FINAL_TYPE (FwLogRow, fw_log_row, GTK_TYPE_WIDGET)

/* ---- Lines ---- */

static void
box_clear (GtkWidget *box)
{
  GtkWidget *child;
  while ((child = gtk_widget_get_first_child (box)) != NULL)
    gtk_box_remove (GTK_BOX (box), child);
}

static void
box_say (GtkWidget *box, const char *text, const char *style)
{
  GtkWidget *label = gtk_label_new (NULL);
  fw_label_say (label, text);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  if (style != NULL)
    gtk_widget_add_css_class (label, style);
  gtk_box_append (GTK_BOX (box), label);
}

/* Returns how many were left out. */
static guint
box_fill (GtkWidget *box, const GPtrArray *lines, gboolean all)
{
  guint n = lines != NULL ? lines->len : 0;
  guint shown = all || n <= FEW_LINES + 1 ? n : FEW_LINES;
  box_clear (box);
  for (guint i = 0; i < shown; i++)
    {
      const FwLogLine *line = g_ptr_array_index (lines, i);
      gboolean faint = line->kind == FW_LOG_FIRST || line->kind == FW_LOG_SAME || line->kind == FW_LOG_REMARK;
      box_say (box, line->text, line->kind == FW_LOG_NEW ? "fw-trouble" : faint ? "fw-faint" : NULL);
    }
  return n - shown;
}

/* ---- Showing an item ---- */

static void
row_name_button (GtkWidget *button, const char *verb, const FwLogItem *item)
{
  /* Translators: what a button does, and to which dated entry: "Edit note: 2026-03-14" */
  g_autofree char *name = g_strdup_printf (C_ ("button of an entry", "%s: %s"), verb, item->date);
  fw_widget_describe (button, name, NULL);
  gtk_actionable_set_action_target (GTK_ACTIONABLE (button), "i", item->index);
  gtk_widget_set_visible (button, !item->present);
}

/* Pressed, it opens where the desktop opens pictures. */
static GtkWidget *
photo_button (const FwLogItem *item, int i)
{
  const FwLogPhoto *photo = &g_array_index (item->photos, FwLogPhoto, i);
  GdkPaintable *paintable = photo->texture != NULL ? GDK_PAINTABLE (photo->texture) : NULL;
  GtkWidget *button = gtk_button_new (), *picture = gtk_picture_new_for_paintable (paintable);
  /* Translators: %s is a caption or a file name */
  g_autofree char *name = g_strdup_printf (_("Open the picture: %s"), *photo->caption ? photo->caption : photo->file);

  gtk_widget_set_size_request (picture, FW_LOG_PHOTO, FW_LOG_PHOTO * 3 / 4);
  gtk_button_set_child (GTK_BUTTON (button), picture);
  gtk_widget_add_css_class (button, "fw-photo");
  gtk_actionable_set_action_target (GTK_ACTIONABLE (button), "(ii)", item->index, i);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), "log.photo");
  gtk_widget_set_tooltip_text (button, photo->file);
  fw_widget_describe (button, name, NULL);
  return button;
}

static void
row_show_photos (FwLogRow *self)
{
  const FwLogItem *item = self->item;
  box_clear (self->photos);
  gtk_widget_set_visible (self->photos, item->photos->len > 0);
  for (guint i = 0; i < item->photos->len; i++)
    {
      const FwLogPhoto *photo = &g_array_index (item->photos, FwLogPhoto, i);
      const char *words = photo->why != NULL ? photo->why : photo->caption;
      GtkWidget *place = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);
      if (photo->why == NULL)
        gtk_box_append (GTK_BOX (place), photo_button (item, (int) i));
      if (*words != '\0')
        {
          box_say (place, words, "fw-faint");
          gtk_label_set_max_width_chars (GTK_LABEL (gtk_widget_get_last_child (place)), 24);
        }
      gtk_widget_set_valign (place, GTK_ALIGN_START);
      gtk_widget_set_size_request (place, FW_LOG_PHOTO, -1);
      if (i % PHOTOS_IN_ROW == 0)
        gtk_box_append (GTK_BOX (self->photos), gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12));
      gtk_box_append (GTK_BOX (gtk_widget_get_last_child (self->photos)), place);
    }
}

static void
row_show_lines (FwLogRow *self)
{
  FwLogItem *item = self->item;
  gboolean known = item->troubles != NULL;
  guint left_out = box_fill (self->changes, item->changes, item->unfolded);
  left_out += box_fill (self->effects, item->effects, item->unfolded);
  left_out += box_fill (self->troubles, item->troubles, item->unfolded);
  if (!known)
    box_say (self->troubles, item->failed ? _("This design cannot be solved: there is not enough memory.")
                                          : _("Working it out…"), "fw-faint");
  if (known && item->effects->len == 0 && (item->index > 0 || item->present))
    box_say (self->effects, _("Nothing that shows."), "fw-faint");
  /* The first one has nothing before it. */
  gtk_widget_set_visible (self->did_half, item->index > 0);
  gtk_widget_set_visible (self->halves, item->index > 0);
  gtk_widget_set_visible (self->unfold, left_out > 0);
  g_autofree char *more
      = g_strdup_printf (ngettext ("Show %u more line", "Show %u more lines", left_out), left_out);
  gtk_button_set_label (GTK_BUTTON (self->unfold), more);
  gtk_actionable_set_action_target (GTK_ACTIONABLE (self->unfold), "i", item->index);
}

static void
row_show_strip (FwLogRow *self)
{
  const FwLogItem *item = self->item;
  g_autofree char *heading = fw_log_item_heading (item);
  /* Translators: %s is the heading of an entry: "3.  2026-04-02" */
  g_autofree char *name = g_strdup_printf (_("Motion strip of %s"), heading);
  gtk_picture_set_paintable (GTK_PICTURE (self->strip), item->strip != NULL ? GDK_PAINTABLE (item->strip) : NULL);
  gtk_picture_set_alternative_text (GTK_PICTURE (self->strip), name);
  fw_widget_describe (self->strip, name, NULL);
}

static void
row_show (FwLogRow *self)
{
  const FwLogItem *item = self->item;
  g_autofree char *heading = fw_log_item_heading (item);

  gtk_label_set_text (GTK_LABEL (self->heading), heading);
  fw_widget_describe (GTK_WIDGET (self), heading, item->note);
  fw_label_say (self->note, item->note);
  gtk_widget_set_visible (self->note, *item->note != '\0');
  row_name_button (self->edit, _("Edit note"), item);
  row_name_button (self->back, _("Bring back"), item);
  row_name_button (self->remove, _("Remove"), item);
  gtk_widget_set_visible (self->add, item->present);
  row_show_photos (self);
  row_show_strip (self);
  row_show_lines (self);
}

void
fw_log_row_set_item (FwLogRow *self, FwLogItem *item)
{
  if (self->item != NULL)
    g_clear_signal_handler (&self->handler, self->item);
  g_set_object (&self->item, item);
  if (item == NULL)
    return;
  self->handler = g_signal_connect_swapped (item, "changed", G_CALLBACK (row_show), self);
  row_show (self);
}

FwLogItem *
fw_log_row_item (FwLogRow *self)
{
  return self->item;
}

/* ---- Making it ---- */

static GtkWidget *
row_button (GtkWidget *row, const char *mnemonic, const char *action, gboolean of_entry)
{
  GtkWidget *button = fw_button_new (mnemonic);
  gtk_widget_add_css_class (button, "flat");
  gtk_widget_add_css_class (button, "fw-quiet");
  gtk_widget_set_valign (button, GTK_ALIGN_CENTER);
  if (of_entry) /* a target first: the action will not do without */
    gtk_actionable_set_action_target (GTK_ACTIONABLE (button), "i", -1);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), action);
  gtk_box_append (GTK_BOX (row), button);
  return button;
}

static GtkWidget *
head (FwLogRow *self)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  self->heading = gtk_label_new (NULL);
  gtk_label_set_xalign (GTK_LABEL (self->heading), 0);
  gtk_widget_set_hexpand (self->heading, TRUE);
  gtk_widget_add_css_class (self->heading, "fw-heading");
  gtk_box_append (GTK_BOX (row), self->heading);
  self->edit = row_button (row, _("Edit note"), "log.edit", TRUE);
  self->back = row_button (row, _("Bring back"), "log.back", TRUE);
  self->remove = row_button (row, _("Remove"), "log.remove", TRUE);
  self->add = row_button (row, _("Note this state…"), "log.new", FALSE);
  gtk_widget_remove_css_class (self->add, "flat");
  gtk_widget_remove_css_class (self->add, "fw-quiet");
  return row;
}

/* A heading over lines. */
static GtkWidget *
section (const char *title, GtkWidget **lines)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);
  box_say (box, title, "fw-section");
  *lines = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);
  gtk_box_append (GTK_BOX (box), *lines);
  return box;
}

static void
fw_log_row_init (FwLogRow *self)
{
  GtkWidget *column = self->column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  gtk_widget_set_parent (column, GTK_WIDGET (self));
  gtk_widget_set_halign (column, GTK_ALIGN_CENTER);
  gtk_widget_set_size_request (column, WIDEST, -1);
  gtk_box_append (GTK_BOX (column), head (self));

  box_say (column, NULL, "fw-words");
  self->note = gtk_widget_get_last_child (column);
  gtk_label_set_max_width_chars (GTK_LABEL (self->note), 72);
  self->photos = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  gtk_box_append (GTK_BOX (column), self->photos);

  self->strip = gtk_picture_new ();
  gtk_widget_set_size_request (self->strip, -1, FW_LOG_STRIP_HEIGHT);
  gtk_widget_set_halign (self->strip, GTK_ALIGN_START);
  gtk_box_append (GTK_BOX (column), self->strip);

  self->halves = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, GAP);
  gtk_box_set_homogeneous (GTK_BOX (self->halves), TRUE);
  gtk_box_append (GTK_BOX (self->halves), section (_("What changed"), &self->changes));
  self->did_half = section (_("What it did"), &self->effects);
  gtk_box_append (GTK_BOX (self->halves), self->did_half);
  gtk_box_append (GTK_BOX (column), self->halves);
  gtk_box_append (GTK_BOX (column), section (_("Trouble then"), &self->troubles));

  self->unfold = gtk_button_new_with_label ("");
  gtk_widget_add_css_class (self->unfold, "fw-quiet");
  gtk_widget_add_css_class (self->unfold, "flat");
  gtk_widget_set_halign (self->unfold, GTK_ALIGN_START);
  gtk_actionable_set_action_target (GTK_ACTIONABLE (self->unfold), "i", -1);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (self->unfold), "log.unfold");
  gtk_box_append (GTK_BOX (column), self->unfold);
}

static void
row_dispose (GObject *object)
{
  FwLogRow *self = FW_LOG_ROW (object);
  fw_log_row_set_item (self, NULL);
  g_clear_pointer (&self->column, gtk_widget_unparent);
  G_OBJECT_CLASS (fw_log_row_parent_class)->dispose (object);
}

static void
fw_log_row_class_init (FwLogRowClass *class)
{
  G_OBJECT_CLASS (class)->dispose = row_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (class), "log-row");
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (class), GTK_ACCESSIBLE_ROLE_GROUP);
}

GtkWidget *
fw_log_row_new (void)
{
  return g_object_new (FW_TYPE_LOG_ROW, NULL);
}
