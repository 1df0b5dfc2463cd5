#include "app/guidereader.h"

#include <glib/gi18n.h>
#include <string.h>

#include "app/ask.h"
#include "app/widgetstyle.h"

#define WIDTH 680
#define HEIGHT 640

/* ---- Finding ---- */

static char *
read_page (const char *name)
{
  static const char *const folders[] = { FW_DATADIR "/../doc/flapwright", FW_SOURCE_DEMOS "/../../docs" };
  for (gsize i = 0; i < G_N_ELEMENTS (folders); i++)
    {
      g_autofree char *path = g_build_filename (folders[i], name, NULL);
      char *text = NULL;
      if (g_file_get_contents (path, &text, NULL, NULL) && g_utf8_validate (text, -1, NULL))
        return text;
      g_free (text);
    }
  return NULL;
}

/* A heading as the link to it says it: small letters, hyphens for spaces, no other marks. */
static char *
anchor_of (const char *heading)
{
  GString *out = g_string_new (NULL);
  for (const char *p = heading; *p != '\0'; p = g_utf8_next_char (p))
    {
      gunichar c = g_utf8_get_char (p);
      if (c == ' ' || c == '-')
        g_string_append_c (out, '-');
      else if (g_unichar_isalnum (c) || c == '_')
        g_string_append_unichar (out, g_unichar_tolower (c));
    }
  return g_string_free (out, FALSE);
}

/* ---- Showing ---- */

/* Words of a line without the marks of links, code and stress. */
static char *
plain_line (const char *line)
{
  g_autoptr (GRegex) links = g_regex_new ("!?\\[([^\\]]*)\\]\\([^)]*\\)", 0, 0, NULL);
  g_autofree char *without = g_regex_replace (links, line, -1, 0, "\\1", 0, NULL);
  GString *out = g_string_new (without);
  g_string_replace (out, "**", "", 0);
  g_string_replace (out, "`", "", 0);
  return g_string_free (out, FALSE);
}

static gboolean
is_set_apart (const char *line)
{
  return g_str_has_prefix (line, "|") || g_str_has_prefix (line, "    ");
}

/* Adds a page to the buffer; paragraphs run on, so that the window breaks them. Returns the mark of the section. */
static GtkTextMark *
fill (GtkTextBuffer *buffer, const char *text, const char *section)
{
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
  GtkTextMark *mark = NULL;
  GtkTextIter end;
  gboolean fenced = FALSE;

  for (int i = 0; lines[i] != NULL; i++)
    {
      const char *line = lines[i], *words = line + strspn (line, "#");
      gtk_text_buffer_get_end_iter (buffer, &end);
      if (g_str_has_prefix (line, "```"))
        fenced = !fenced;
      else if (words != line && *words == ' ' && !fenced)
        {
          g_autofree char *anchor = anchor_of (words + 1), *plain = plain_line (words + 1);
          if (mark == NULL && g_strcmp0 (anchor, section) == 0)
            mark = gtk_text_buffer_create_mark (buffer, NULL, &end, TRUE);
          gtk_text_buffer_insert_with_tags_by_name (buffer, &end, plain, -1, "heading", NULL);
          gtk_text_buffer_insert (buffer, &end, "\n", 1);
        }
      else if (fenced || is_set_apart (line))
        {
          gtk_text_buffer_insert_with_tags_by_name (buffer, &end, line, -1, "apart", NULL);
          gtk_text_buffer_insert (buffer, &end, "\n", 1);
        }
      else
        {
          g_autofree char *plain = plain_line (line);
          const char *next = lines[i + 1];
          gboolean ends = *line == '\0' || next == NULL || *next == '\0' || strchr ("#-|`", *next) != NULL || is_set_apart (next);
          gtk_text_buffer_insert (buffer, &end, plain, -1);
          gtk_text_buffer_insert (buffer, &end, ends ? "\n" : " ", 1);
        }
    }
  return mark;
}

typedef struct
{
  GtkTextView *view;
  GtkTextMark *mark;
} Place;

static gboolean
on_shown (gpointer data)
{
  Place *place = data;
  gtk_text_view_scroll_to_mark (place->view, place->mark, 0, TRUE, 0, 0);
  return G_SOURCE_REMOVE;
}

static void
place_free (gpointer data)
{
  g_object_unref (((Place *) data)->view);
  g_free (data);
}

static GtkWidget *
page_view (const char *text, const char *section)
{
  GtkWidget *view = gtk_text_view_new (), *scroll = gtk_scrolled_window_new ();
  GtkTextBuffer *buffer = gtk_text_view_get_buffer (GTK_TEXT_VIEW (view));
  GtkTextIter start;

  gtk_text_buffer_create_tag (buffer, "heading", "weight", PANGO_WEIGHT_BOLD, "scale", 1.15, "pixels-above-lines", 6, NULL);
  gtk_text_buffer_create_tag (buffer, "apart", "family", "Monospace", "scale", 0.9, "wrap-mode", GTK_WRAP_WORD_CHAR, NULL);
  gtk_text_view_set_editable (GTK_TEXT_VIEW (view), FALSE);
  gtk_text_view_set_wrap_mode (GTK_TEXT_VIEW (view), GTK_WRAP_WORD_CHAR);
  gtk_text_view_set_left_margin (GTK_TEXT_VIEW (view), 18);
  gtk_text_view_set_right_margin (GTK_TEXT_VIEW (view), 18);
  gtk_text_view_set_top_margin (GTK_TEXT_VIEW (view), 12);
  gtk_text_view_set_bottom_margin (GTK_TEXT_VIEW (view), 18);
  gtk_widget_add_css_class (view, "guide-page");
  fw_widget_describe (view, _ ("Page of the guide"), NULL);
  GtkTextMark *mark = fill (buffer, text, section);
  gtk_text_buffer_get_start_iter (buffer, &start);
  if (mark != NULL)
    {
      gtk_text_buffer_get_iter_at_mark (buffer, &start, mark);
      Place *place = g_new (Place, 1);
      *place = (Place){ g_object_ref (GTK_TEXT_VIEW (view)), mark };
      g_timeout_add_full (G_PRIORITY_DEFAULT, 60, on_shown, place, place_free);
    }
  gtk_text_buffer_place_cursor (buffer, &start);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroll), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroll), view);
  return scroll;
}

void
fw_guide_reader_show (GtkWindow *parent, const char *place)
{
  g_auto (GStrv) parts = g_strsplit (place, "#", 2);
  g_autofree char *text = read_page (parts[0]);
  /* Translators: %s is a file of the guide */
  g_autofree char *missing = g_strdup_printf (_ ("The guide is not installed here; this is in its page %s."), place);
  GtkWindow *window = fw_dialog_new (parent, _ ("Guide"));

  gtk_window_set_modal (window, FALSE);
  gtk_window_set_default_size (window, WIDTH, MIN (HEIGHT, gtk_widget_get_height (GTK_WIDGET (parent))));
  gtk_window_set_child (window, page_view (text != NULL ? text : missing, parts[1]));
  gtk_window_present (window);
}
