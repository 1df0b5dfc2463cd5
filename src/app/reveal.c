#include "app/reveal.h"

typedef struct
{
  GPtrArray *hidden; /* references: the box may be filled anew meanwhile */
  guint shown, step;
  guint idle;
} Reveal;

static void
reveal_free (gpointer data)
{
  Reveal *self = data;
  g_clear_handle_id (&self->idle, g_source_remove);
  g_ptr_array_unref (self->hidden);
  g_free (self);
}

static gboolean
on_idle (gpointer data)
{
  Reveal *self = data;
  for (guint i = 0; i < self->step && self->shown < self->hidden->len; i++)
    gtk_widget_set_visible (self->hidden->pdata[self->shown++], TRUE);
  if (self->shown < self->hidden->len)
    return G_SOURCE_CONTINUE;
  self->idle = 0;
  return G_SOURCE_REMOVE;
}

void
fw_reveal_slowly (GtkWidget *box, guint first, guint step)
{
  Reveal *self = g_new0 (Reveal, 1);
  guint i = 0;

  *self = (Reveal) { .hidden = g_ptr_array_new_with_free_func (g_object_unref), .step = step };
  for (GtkWidget *child = gtk_widget_get_first_child (box); child != NULL; child = gtk_widget_get_next_sibling (child))
    if (gtk_widget_get_visible (child) && i++ >= first)
      g_ptr_array_add (self->hidden, g_object_ref (child));
  for (i = 0; i < self->hidden->len; i++)
    gtk_widget_set_visible (self->hidden->pdata[i], FALSE);
  if (self->hidden->len > 0)
    self->idle = g_idle_add_full (G_PRIORITY_LOW, on_idle, self, NULL);
  g_object_set_data_full (G_OBJECT (box), "fw-reveal", self, reveal_free); /* and ends the one before */
}
