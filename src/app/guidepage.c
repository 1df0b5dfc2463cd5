#include "app/guidepage.h"

#include <gdk-pixbuf/gdk-pixbuf.h>
#include <md4c.h>
#include <string.h>

#include "app/controls.h"
#include "app/guidefiles.h"
#include "app/widgetstyle.h"

#define DEEPEST 12     /* boxes in boxes: lists in lists */
#define LINE_CHARS 96  /* longer lines are hard to follow */

typedef struct
{
  GtkWidget *page, *boxes[DEEPEST]; /* where the next widget goes */
  int depth;
  GString *markup;        /* of the label being gathered */
  GtkWidget *grid;        /* the table that is being filled */
  int row, column, level; /* level: of the heading, 0: no heading */
  int numbers[DEEPEST];   /* next number of a list; 0: a dot */
  int lists;
  gboolean headed;        /* the table has words in its head */
  gboolean quiet;         /* within what is not shown */
  GString *alt;           /* words of a picture, NULL: none is open */
  char *source;           /* its file */
  const char *folder;
} Maker;

typedef struct
{
  FwGuideFollow follow;
  gpointer data;
} Link;

/* ---- Labels ---- */

static gboolean
on_link (GtkLabel *label, const char *place, gpointer data)
{
  GtkWidget *page = gtk_widget_get_ancestor (GTK_WIDGET (label), GTK_TYPE_BOX);
  Link *link = NULL;
  for (; page != NULL && link == NULL; page = gtk_widget_get_parent (page))
    link = g_object_get_data (G_OBJECT (page), "fw-link");
  if (link != NULL)
    link->follow (place, link->data);
  return TRUE; /* nothing is opened by the desktop */
}

static GtkWidget *
maker_label (Maker *m, const char *style)
{
  GtkAccessibleRole role = m->level > 0 ? GTK_ACCESSIBLE_ROLE_HEADING : GTK_ACCESSIBLE_ROLE_LABEL;
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "accessible-role", role, "wrap", TRUE, "wrap-mode", PANGO_WRAP_WORD_CHAR,
                                   "xalign", 0.0, "yalign", 0.0, "max-width-chars", LINE_CHARS, NULL);
  gtk_label_set_markup (GTK_LABEL (label), m->markup->str);
  g_signal_connect (label, "activate-link", G_CALLBACK (on_link), NULL);
  if (strstr (m->markup->str, "<a ") == NULL) /* Tab goes from link to link, and stops at no other words */
    g_object_set (label, "selectable", TRUE, "can-focus", FALSE, NULL);
  if (style != NULL)
    gtk_widget_add_css_class (label, style);
  g_string_truncate (m->markup, 0);
  return label;
}

static void
maker_put (Maker *m, GtkWidget *widget)
{
  if (m->grid != NULL)
    gtk_grid_attach (GTK_GRID (m->grid), widget, m->column, m->row, 1, 1);
  else
    gtk_box_append (GTK_BOX (m->boxes[m->depth]), widget);
}

/* Shows the words gathered so far as a paragraph of their own. */
static void
maker_flush (Maker *m, const char *style)
{
  g_autofree char *bare = g_strstrip (g_strdup (m->markup->str));
  if (*bare != '\0')
    maker_put (m, maker_label (m, style));
  g_string_truncate (m->markup, 0);
}

static void
maker_heading (Maker *m)
{
  static const char *const styles[] = { "guide-title", "guide-heading", "guide-part" };
  int level = m->level;
  GtkWidget *label = maker_label (m, styles[MIN (level, 3) - 1]);
  char *anchor = fw_guide_anchor (gtk_label_get_text (GTK_LABEL (label)));

  gtk_accessible_update_property (GTK_ACCESSIBLE (label), GTK_ACCESSIBLE_PROPERTY_LEVEL, level, -1);
  g_object_set_data_full (G_OBJECT (label), "fw-anchor", anchor, g_free);
  m->level = 0;
  maker_put (m, label);
}

/* ---- Pictures ---- */

/* The page is there at once, with room for its pictures; they come one by one. */
static gboolean
on_picture_due (gpointer data)
{
  GtkWidget *picture = data;
  g_autoptr (GdkTexture) texture = NULL;
  const char *path = g_object_get_data (G_OBJECT (picture), "fw-path");
  if (gtk_widget_get_parent (picture) != NULL && (texture = gdk_texture_new_from_filename (path, NULL)) != NULL)
    gtk_picture_set_paintable (GTK_PICTURE (picture), GDK_PAINTABLE (texture));
  return G_SOURCE_REMOVE;
}

static void
maker_picture (Maker *m)
{
  const char *source = g_str_has_prefix (m->source, "../") ? m->source + 3 : m->source; /* as a translated page has it */
  g_autofree char *path = g_build_filename (m->folder, source, NULL);
  int width, height;

  if (strstr (source, "..") != NULL || gdk_pixbuf_get_file_info (path, &width, &height) == NULL)
    {
      g_autofree char *words = g_markup_escape_text (m->alt->str, -1);
      g_string_append (m->markup, words); /* not there: its words are */
      return;
    }
  maker_flush (m, NULL);
  GdkPaintable *room = gdk_paintable_new_empty (width, height);
  GtkWidget *picture = gtk_picture_new_for_paintable (room);
  g_object_unref (room);
  g_object_set_data_full (G_OBJECT (picture), "fw-path", g_steal_pointer (&path), g_free);
  gtk_picture_set_content_fit (GTK_PICTURE (picture), GTK_CONTENT_FIT_SCALE_DOWN);
  gtk_picture_set_alternative_text (GTK_PICTURE (picture), m->alt->str);
  fw_widget_describe (picture, m->alt->str, NULL);
  gtk_widget_set_tooltip_text (picture, m->alt->str);
  gtk_widget_set_halign (picture, GTK_ALIGN_START);
  gtk_widget_add_css_class (picture, "guide-picture");
  g_idle_add_full (G_PRIORITY_LOW, on_picture_due, g_object_ref (picture), g_object_unref);
  maker_put (m, picture);
}

/* ---- Blocks ---- */

static GtkWidget *
box_new (GtkAccessibleRole role, GtkOrientation way, int spacing)
{
  return g_object_new (GTK_TYPE_BOX, "accessible-role", role, "orientation", way, "spacing", spacing, NULL);
}

static void
maker_go_in (Maker *m, GtkWidget *box)
{
  gtk_box_append (GTK_BOX (m->boxes[m->depth]), box);
  if (m->depth < DEEPEST - 1)
    m->depth++;
  m->boxes[m->depth] = box;
}

static void
maker_list (Maker *m, int first)
{
  GtkWidget *list = box_new (GTK_ACCESSIBLE_ROLE_LIST, GTK_ORIENTATION_VERTICAL, 4);
  maker_flush (m, NULL);
  if (m->lists < DEEPEST - 1)
    m->lists++;
  m->numbers[m->lists] = first;
  maker_go_in (m, list);
}

static void
maker_item (Maker *m)
{
  int *number = &m->numbers[m->lists];
  g_autofree char *mark = *number > 0 ? g_strdup_printf ("%d.", (*number)++) : g_strdup ("•");
  GtkWidget *row = box_new (GTK_ACCESSIBLE_ROLE_LIST_ITEM, GTK_ORIENTATION_HORIZONTAL, 6), *sign = gtk_label_new (mark);
  gtk_label_set_yalign (GTK_LABEL (sign), 0);
  gtk_label_set_xalign (GTK_LABEL (sign), 1);
  gtk_label_set_width_chars (GTK_LABEL (sign), 3);
  gtk_widget_set_valign (sign, GTK_ALIGN_START);
  gtk_box_append (GTK_BOX (row), sign);
  maker_go_in (m, row);
  maker_go_in (m, box_new (GTK_ACCESSIBLE_ROLE_GROUP, GTK_ORIENTATION_VERTICAL, 6));
  gtk_widget_set_hexpand (m->boxes[m->depth], TRUE); /* lines as long as there is room for */
}

static void
maker_table (Maker *m)
{
  GtkWidget *grid = g_object_new (GTK_TYPE_GRID, "accessible-role", GTK_ACCESSIBLE_ROLE_TABLE, NULL);
  gtk_widget_add_css_class (grid, "guide-table");
  gtk_widget_set_halign (grid, GTK_ALIGN_START);
  maker_put (m, grid);
  m->grid = grid;
  m->row = -1;
  m->headed = FALSE;
}

static void
maker_cell (Maker *m, gboolean head)
{
  m->headed = m->headed || (head && m->markup->len > 0);
  maker_put (m, maker_label (m, head ? "guide-head" : "guide-cell"));
  m->column++;
}

static int
on_enter (MD_BLOCKTYPE type, void *detail, void *data)
{
  Maker *m = data;
  switch (type)
    {
    case MD_BLOCK_H:
      m->level = (int) ((MD_BLOCK_H_DETAIL *) detail)->level;
      break;
    case MD_BLOCK_UL:
      maker_list (m, 0);
      break;
    case MD_BLOCK_OL:
      maker_list (m, MAX ((int) ((MD_BLOCK_OL_DETAIL *) detail)->start, 1));
      break;
    case MD_BLOCK_LI:
      maker_item (m);
      break;
    case MD_BLOCK_QUOTE:
      maker_go_in (m, box_new (GTK_ACCESSIBLE_ROLE_GROUP, GTK_ORIENTATION_VERTICAL, 12));
      gtk_widget_add_css_class (m->boxes[m->depth], "guide-quote");
      break;
    case MD_BLOCK_TABLE:
      maker_table (m);
      break;
    case MD_BLOCK_TR:
      m->row++;
      m->column = 0;
      break;
    case MD_BLOCK_HR:
      maker_put (m, gtk_separator_new (GTK_ORIENTATION_HORIZONTAL));
      break;
    case MD_BLOCK_HTML:
      m->quiet = TRUE; /* remarks */
      break;
    default:
      break;
    }
  return 0;
}

static int
on_leave (MD_BLOCKTYPE type, void *detail, void *data)
{
  Maker *m = data;
  switch (type)
    {
    case MD_BLOCK_H:
      maker_heading (m);
      break;
    case MD_BLOCK_P:
      maker_flush (m, NULL);
      break;
    case MD_BLOCK_CODE:
      while (m->markup->len > 0 && m->markup->str[m->markup->len - 1] == '\n')
        g_string_truncate (m->markup, m->markup->len - 1);
      maker_flush (m, "guide-code");
      break;
    case MD_BLOCK_LI:
      maker_flush (m, NULL);
      m->depth -= 2;
      break;
    case MD_BLOCK_UL:
    case MD_BLOCK_OL:
      m->depth--;
      m->lists--;
      break;
    case MD_BLOCK_QUOTE:
      m->depth--;
      break;
    case MD_BLOCK_TH:
    case MD_BLOCK_TD:
      maker_cell (m, type == MD_BLOCK_TH);
      break;
    case MD_BLOCK_THEAD:
      if (!m->headed)
        gtk_grid_remove_row (GTK_GRID (m->grid), m->row--);
      break;
    case MD_BLOCK_TABLE:
      m->grid = NULL;
      break;
    case MD_BLOCK_HTML:
      m->quiet = FALSE;
      break;
    default:
      break;
    }
  return 0;
}

/* ---- Within a line ---- */

static void
append_escaped (GString *markup, const char *text, gsize size)
{
  g_autofree char *escaped = g_markup_escape_text (text, (gssize) size);
  g_string_append (markup, escaped);
}

static int
on_enter_span (MD_SPANTYPE type, void *detail, void *data)
{
  Maker *m = data;
  if (type == MD_SPAN_IMG && m->alt == NULL)
    {
      const MD_ATTRIBUTE *src = &((MD_SPAN_IMG_DETAIL *) detail)->src;
      m->source = g_strndup (src->text, src->size);
      m->alt = g_string_new (NULL);
    }
  else if (m->alt == NULL && type == MD_SPAN_A)
    {
      const MD_ATTRIBUTE *href = &((MD_SPAN_A_DETAIL *) detail)->href;
      g_string_append (m->markup, "<a href=\"");
      append_escaped (m->markup, href->text, href->size);
      g_string_append (m->markup, "\">");
    }
  else if (m->alt == NULL)
    g_string_append (m->markup, type == MD_SPAN_STRONG ? "<b>" : type == MD_SPAN_EM ? "<i>" : type == MD_SPAN_CODE ? "<tt>" : "<span>");
  return 0;
}

static int
on_leave_span (MD_SPANTYPE type, void *detail, void *data)
{
  Maker *m = data;
  if (type == MD_SPAN_IMG && m->alt != NULL)
    {
      maker_picture (m);
      g_clear_pointer (&m->source, g_free);
      g_string_free (g_steal_pointer (&m->alt), TRUE);
    }
  else if (m->alt == NULL)
    g_string_append (m->markup, type == MD_SPAN_A ? "</a>" : type == MD_SPAN_STRONG ? "</b>" : type == MD_SPAN_EM ? "</i>" : type == MD_SPAN_CODE ? "</tt>" : "</span>");
  return 0;
}

static int
on_text (MD_TEXTTYPE type, const MD_CHAR *text, MD_SIZE size, void *data)
{
  Maker *m = data;
  if (m->quiet || type == MD_TEXT_HTML)
    return 0;
  if (type == MD_TEXT_BR || type == MD_TEXT_SOFTBR)
    g_string_append_c (m->alt != NULL ? m->alt : m->markup, type == MD_TEXT_BR ? '\n' : ' ');
  else if (m->alt != NULL)
    g_string_append_len (m->alt, text, size);
  else
    append_escaped (m->markup, text, size);
  return 0;
}

/* ---- The page ---- */

GtkWidget *
fw_guide_page_new (const char *text, const char *folder, FwGuideFollow follow, gpointer data)
{
  static const MD_PARSER parser = {
    .flags = MD_FLAG_TABLES, .enter_block = on_enter, .leave_block = on_leave,
    .enter_span = on_enter_span, .leave_span = on_leave_span, .text = on_text,
  };
  Maker m = { .markup = g_string_new (NULL), .folder = folder != NULL ? folder : "" };
  Link *link = g_new (Link, 1);

  *link = (Link){ follow, data };
  m.page = m.boxes[0] = box_new (GTK_ACCESSIBLE_ROLE_GROUP, GTK_ORIENTATION_VERTICAL, 12);
  g_object_set_data_full (G_OBJECT (m.page), "fw-link", link, g_free);
  gtk_widget_add_css_class (m.page, "guide-page");
  md_parse (text, (MD_SIZE) strlen (text), &parser, &m);
  maker_flush (&m, NULL);
  g_string_free (m.markup, TRUE);
  fw_left_to_right (m.page); /* its words are */
  return m.page;
}

/* The next widget of the page, depth first. */
static GtkWidget *
next_of (GtkWidget *page, GtkWidget *at)
{
  GtkWidget *next = gtk_widget_get_first_child (at);
  for (; next == NULL && at != page; at = gtk_widget_get_parent (at))
    next = gtk_widget_get_next_sibling (at);
  return next;
}

GtkWidget *
fw_guide_page_heading (GtkWidget *page, const char *anchor)
{
  for (GtkWidget *at = page; at != NULL; at = next_of (page, at))
    if (g_strcmp0 (g_object_get_data (G_OBJECT (at), "fw-anchor"), anchor) == 0)
      return at;
  return NULL;
}

GtkWidget *
fw_guide_page_nth_heading (GtkWidget *page, int number)
{
  for (GtkWidget *at = page; at != NULL && number >= 0; at = next_of (page, at))
    if (g_object_get_data (G_OBJECT (at), "fw-anchor") != NULL && number-- == 0)
      return at;
  return NULL;
}

static gboolean
label_mark (GtkLabel *label, GRegex *words)
{
  PangoAttrList *marks = NULL;
  GMatchInfo *match = NULL;
  if (words != NULL && g_regex_match (words, gtk_label_get_text (label), 0, &match))
    {
      marks = pango_attr_list_new ();
      for (; g_match_info_matches (match); g_match_info_next (match, NULL))
        {
          int from, to;
          PangoAttribute *both[2] = { pango_attr_background_new (0xffff, 0xd5d5, 0x4f4f), pango_attr_foreground_new (0, 0, 0) };
          g_match_info_fetch_pos (match, 0, &from, &to);
          for (int i = 0; i < 2; i++)
            {
              both[i]->start_index = (guint) from;
              both[i]->end_index = (guint) to;
              pango_attr_list_insert (marks, both[i]);
            }
        }
    }
  g_clear_pointer (&match, g_match_info_free);
  gtk_label_set_attributes (label, marks);
  g_clear_pointer (&marks, pango_attr_list_unref);
  return words != NULL && gtk_label_get_attributes (label) != NULL;
}

GtkWidget *
fw_guide_page_find (GtkWidget *page, const char *words, GtkWidget *after)
{
  g_autofree char *plain = g_regex_escape_string (words, -1);
  g_autoptr (GRegex) regex = *words != '\0' ? g_regex_new (plain, G_REGEX_CASELESS, 0, NULL) : NULL;
  GtkWidget *first = NULL, *next = NULL;
  gboolean behind = after == NULL;

  for (GtkWidget *at = page; at != NULL; at = next_of (page, at))
    {
      if (GTK_IS_LABEL (at) && label_mark (GTK_LABEL (at), regex))
        {
          first = first != NULL ? first : at;
          next = next == NULL && behind ? at : next;
        }
      behind = behind || at == after;
    }
  return next != NULL ? next : first;
}
