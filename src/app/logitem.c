#include "app/logitem.h"

#include <glib/gi18n.h>
#include <string.h>

static guint changed_signal;

G_DEFINE_FINAL_TYPE (FwLogItem, fw_log_item, G_TYPE_OBJECT)

static void
photo_clear (gpointer data)
{
  FwLogPhoto *photo = data;
  g_free (photo->file);
  g_free (photo->caption);
  g_free (photo->why);
  g_clear_object (&photo->texture);
}

static void
item_finalize (GObject *object)
{
  FwLogItem *self = FW_LOG_ITEM (object);
  fw_log_item_forget (self, TRUE, TRUE);
  g_free (self->date);
  g_free (self->note);
  g_free (self->title);
  g_array_unref (self->photos);
  G_OBJECT_CLASS (fw_log_item_parent_class)->finalize (object);
}

static void
fw_log_item_class_init (FwLogItemClass *class)
{
  G_OBJECT_CLASS (class)->finalize = item_finalize;
  changed_signal = g_signal_new ("changed", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                 G_TYPE_NONE, 0);
}

static void
fw_log_item_init (FwLogItem *self)
{
  self->photos = g_array_new (FALSE, TRUE, sizeof (FwLogPhoto));
  g_array_set_clear_func (self->photos, photo_clear);
}

/* 2026-03-14T18:30 as 2026-03-14 18:30. */
static char *
plain_date (const char *date)
{
  char *text = g_strdup (date);
  return g_strdelimit (text, "T", ' ');
}

FwLogItem *
fw_log_item_new (const FwDocument *doc, int index)
{
  FwLogItem *self = g_object_new (FW_TYPE_LOG_ITEM, NULL);
  FwLogEntry entry = { .date = "", .note = "" };
  FwLogPicture picture;

  self->index = index;
  self->present = !fw_log_entry (doc, index, &entry);
  self->date = plain_date (entry.date);
  self->note = g_strdup (entry.note);
  self->title = g_strdup (fw_log_title (doc, index));
  self->key = fw_log_design_key (doc, index);
  self->before = index > 0 ? fw_log_design_key (doc, index - 1) : NULL;
  for (int i = 0; fw_log_picture (doc, index, i, &picture); i++)
    {
      FwLogPhoto photo = { .file = g_strdup (picture.file), .caption = g_strdup (picture.caption) };
      g_array_append_val (self->photos, photo);
    }
  self->photos_read = self->photos->len == 0;
  return self;
}

static gboolean
same_photos (const FwLogItem *a, const FwLogItem *b)
{
  gboolean same = a->photos->len == b->photos->len;
  for (guint i = 0; i < a->photos->len && same; i++)
    {
      const FwLogPhoto *x = &g_array_index (a->photos, FwLogPhoto, i), *y = &g_array_index (b->photos, FwLogPhoto, i);
      same = strcmp (x->file, y->file) == 0 && strcmp (x->caption, y->caption) == 0;
    }
  return same;
}

/* The present design has no key: it is never the same, so that what changed is found out anew. */
static gboolean
same_design (const FwLogItem *a, const FwLogItem *b)
{
  return a->key != NULL && a->key == b->key && a->before == b->before;
}

gboolean
fw_log_item_same (const FwLogItem *a, const FwLogItem *b)
{
  return same_design (a, b) && a->index == b->index && strcmp (a->date, b->date) == 0
         && strcmp (a->note, b->note) == 0 && same_photos (a, b);
}

static GPtrArray *
lines_ref (GPtrArray *lines)
{
  return lines != NULL ? g_ptr_array_ref (lines) : NULL;
}

void
fw_log_item_take (FwLogItem *self, FwLogItem *from)
{
  /* Until the present design is worked out, what was found last stands: it does not flicker. */
  gboolean both_present = self->present && from->present;
  if (!both_present && !(self->key != NULL && self->key == from->key && strcmp (self->date, from->date) == 0))
    return;
  if (same_design (self, from))
    {
      self->changes = lines_ref (from->changes);
      self->effects = lines_ref (from->effects);
      self->troubles = lines_ref (from->troubles);
    }
  if (!both_present)
    g_set_object (&self->strip, from->strip);
  self->unfolded = from->unfolded;
  if (!same_photos (self, from))
    return;
  for (guint i = 0; i < self->photos->len; i++)
    {
      FwLogPhoto *to = &g_array_index (self->photos, FwLogPhoto, i), *old = &g_array_index (from->photos, FwLogPhoto, i);
      g_set_object (&to->texture, old->texture);
      to->why = g_strdup (old->why);
    }
  self->photos_read = from->photos_read;
}

void
fw_log_item_forget (FwLogItem *self, gboolean lines, gboolean strip)
{
  if (lines)
    {
      g_clear_pointer (&self->changes, g_ptr_array_unref);
      g_clear_pointer (&self->effects, g_ptr_array_unref);
      g_clear_pointer (&self->troubles, g_ptr_array_unref);
    }
  if (strip)
    g_clear_object (&self->strip);
}

void
fw_log_item_changed (FwLogItem *self)
{
  g_signal_emit (self, changed_signal, 0);
}

char *
fw_log_item_heading (const FwLogItem *self)
{
  if (self->present)
    return g_strdup (_("Since then, not logged yet"));
  /* Translators: number of an entry of the log, and its date. */
  return g_strdup_printf (_("%d.  %s"), self->index + 1, self->date);
}
