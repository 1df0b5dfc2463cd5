#include "shop/logbook.h"

#include <math.h>
#include <string.h>

#include <glib/gi18n.h>

#include "core/peaks.h"
#include "shop/trouble.h"

#define MANY_PICTURES 60
#define MANY_ENTRIES 100
#define TABLE_ROWS 12
#define DEGREES (180 / G_PI)

/* ---- A design solved ---- */

static gboolean
closes_all_round (const FwLogState *s)
{
  FwInterval gap;
  gboolean closes = fw_turn_closes (s->turn, s->mechanism);
  for (int member = -1; member < s->mechanism->n_members && closes; member++)
    closes = fw_turn_gaps (s->turn, s->mechanism, member, &gap, 1) == 0;
  return closes;
}

/* What `check` finds. FALSE: no memory. */
static gboolean
find_trouble (FwLogState *s)
{
  s->troubles = (FwTroubleList){ .items = g_new0 (FwTrouble, FW_TROUBLE_ROOM), .capacity = FW_TROUBLE_ROOM };
  FwLoadTurn *forces = fw_load_turn_new (s->mechanism, FW_LOG_STEPS);
  if (forces == NULL)
    return FALSE;
  fw_load_turn_solve (forces, s->mechanism, fw_crank_speed (s->mechanism->design));
  const double *torque = fw_load_turn_row (forces, s->mechanism, (FwLoad){ FW_LOAD_TORQUE, 0 });
  s->torque_Nm = s->goes_round ? 0 : NAN;
  for (int i = 0; i < FW_LOG_STEPS && s->goes_round; i++)
    s->torque_Nm = fmax (s->torque_Nm, fabs (torque[i]));
  gboolean done = fw_all_trouble_find (s->turn, forces, s->mechanism, &s->troubles, NULL, NULL);
  free (forces);
  return done;
}

FwLogState *
fw_log_state_new (const FwDesign *design)
{
  FwLogState *s = g_new0 (FwLogState, 1);
  if (fw_mechanism_build (design, &s->mechanism, NULL) != FW_OK)
    {
      g_free (s);
      return NULL;
    }
  s->turn = fw_turn_new (s->mechanism, FW_LOG_STEPS);
  s->pose = fw_pose_new (s->mechanism);
  s->scratch = fw_pose_new (s->mechanism);
  gboolean fine = s->turn != NULL && s->pose != NULL && s->scratch != NULL;
  if (fine)
    {
      fw_turn_solve (s->turn, s->mechanism);
      fw_pose_solve (s->pose, s->mechanism, 0);
      s->goes_round = closes_all_round (s);
      fine = find_trouble (s);
    }
  if (fine)
    return s;
  fw_log_state_free (s);
  return NULL;
}

void
fw_log_state_free (FwLogState *s)
{
  if (s == NULL)
    return;
  g_free (s->troubles.items);
  free (s->turn);
  free (s->pose);
  free (s->scratch);
  fw_mechanism_free (s->mechanism);
  g_free (s);
}

FwScene
fw_log_state_scene (const FwLogState *s)
{
  return (FwScene){ .mechanism = s->mechanism, .pose = s->pose, .turn = s->turn,
                    .troubles = &s->troubles, .scratch = s->scratch };
}

/* ---- Pages ---- */

static void
page_free (gpointer data)
{
  FwLogPage *page = data;
  g_free (page->date);
  g_free (page->note);
  g_free (page->title);
  g_ptr_array_unref (page->pictures);
  fw_log_state_free (page->state);
  g_clear_pointer (&page->changes, g_ptr_array_unref);
  g_clear_pointer (&page->effects, g_ptr_array_unref);
  g_clear_pointer (&page->troubles, g_ptr_array_unref);
  g_free (page);
}

/* 2026-03-14T18:30 as 2026-03-14 18:30. */
static char *
plain_date (const char *date)
{
  char *text = g_strdup (date);
  char *t = strchr (text, 'T');
  if (t != NULL)
    *t = ' ';
  return text;
}

static FwLogPage *
page_new (const FwDocument *doc, int index)
{
  FwLogPage *page = g_new0 (FwLogPage, 1);
  FwLogEntry entry = { .date = "", .note = "" };
  FwLogPicture picture;
  page->index = index;
  page->present = !fw_log_entry (doc, index, &entry);
  page->date = plain_date (entry.date);
  page->note = g_strdup (entry.note);
  page->title = g_strdup (fw_log_title (doc, index));
  page->pictures = g_ptr_array_new_with_free_func (g_free);
  for (int i = 0; fw_log_picture (doc, index, i, &picture); i++)
    {
      g_ptr_array_add (page->pictures, g_strdup (picture.file));
      g_ptr_array_add (page->pictures, g_strdup (picture.caption));
    }
  return page;
}

/* FALSE: no memory. */
static gboolean
work_out (FwLogPage *page, const FwLogPage *last, const FwDocument *doc, FwLengths lengths)
{
  FwDesign *design = fw_log_design (doc, page->index);
  page->state = design != NULL ? fw_log_state_new (design) : NULL;
  fw_design_free (design);
  if (page->state == NULL)
    return FALSE;
  page->changes = fw_log_changes (doc, page->index, lengths);
  page->effects = last != NULL ? fw_log_effects (last->state, page->state, lengths) : NULL;
  page->troubles = fw_log_troubles (page->state, lengths);
  return TRUE;
}

static gboolean
present_is_logged (const FwDocument *doc, FwLengths lengths)
{
  g_autoptr (GPtrArray) lines = fw_log_changes (doc, fw_log_count (doc), lengths);
  const FwLogLine *first = g_ptr_array_index (lines, 0);
  return first->kind == FW_LOG_SAME;
}

static void
add_remarks (FwLogbook *book)
{
  guint pictures = 0;
  for (guint i = 0; i < book->pages->len; i++)
    pictures += ((FwLogPage *)g_ptr_array_index (book->pages, i))->pictures->len / 2;
  if (pictures > MANY_PICTURES)
    fw_log_lines_add (book->remarks, FW_LOG_REMARK,
                      g_strdup_printf (ngettext ("The log shows %u picture; what is exported from it will be large.",
                                                "The log shows %u pictures; what is exported from it will be large.",
                                                pictures),
                                       pictures));
  if (book->pages->len > MANY_ENTRIES)
    fw_log_lines_add (book->remarks, FW_LOG_REMARK,
                      g_strdup_printf (ngettext ("The log has %u entry, each with a whole design; old ones can be "
                                                "taken out.",
                                                "The log has %u entries, each with a whole design; old ones can be "
                                                "taken out.",
                                                book->pages->len),
                                       book->pages->len));
}

static gboolean
add_pages (FwLogbook *book, const FwDocument *doc, const FwProgress *progress, GError **error)
{
  int n = fw_log_count (doc);
  int pages = n == 0 || present_is_logged (doc, book->lengths) ? n : n + 1;
  for (int i = 0; i < pages; i++)
    {
      if (!fw_progress (progress, (double)i / pages, _ ("Solving the log's designs")))
        return fw_progress_stopped (error);
      const FwLogPage *last = i > 0 ? g_ptr_array_index (book->pages, i - 1) : NULL;
      FwLogPage *page = page_new (doc, i);
      g_ptr_array_add (book->pages, page);
      if (work_out (page, last, doc, book->lengths))
        continue;
      g_set_error_literal (error, FW_DOC_ERROR, FW_DOC_ERROR_IO, _ ("There is not enough memory for the log"));
      return FALSE;
    }
  return TRUE;
}

FwLogbook *
fw_logbook_new (const FwDocument *doc, const char *folder, FwLengths lengths, const FwProgress *progress,
                GError **error)
{
  FwLogbook *book = g_new0 (FwLogbook, 1);
  *book = (FwLogbook){ .title = g_strdup (fw_document_title (doc)),
                       .folder = g_strdup (folder),
                       .lengths = lengths,
                       .pages = g_ptr_array_new_with_free_func (page_free),
                       .remarks = fw_log_lines_new () };
  if (add_pages (book, doc, progress, error))
    {
      add_remarks (book);
      return book;
    }
  fw_logbook_free (book);
  return NULL;
}

void
fw_logbook_free (FwLogbook *book)
{
  if (book == NULL)
    return;
  g_free (book->title);
  g_free (book->folder);
  g_ptr_array_unref (book->pages);
  g_ptr_array_unref (book->remarks);
  g_free (book);
}

char *
fw_log_page_heading (const FwLogPage *page)
{
  if (page->present)
    return g_strdup (_ ("Since then, not logged yet"));
  /* Translators: number of an entry of the log, and its date. */
  return g_strdup_printf (_ ("%d.  %s"), page->index + 1, page->date);
}

/* ---- The table ---- */

static void
add_cell (GPtrArray *row, double value, FwUnit unit, FwLengths lengths)
{
  g_ptr_array_add (row, fw_units_format_bare (value, unit, lengths, 1));
}

static char *
column_name (const char *what, FwUnit unit, FwLengths lengths)
{
  return g_strdup_printf ("%s, %s", what, fw_units_symbol (unit, lengths));
}

static GPtrArray *
head_row (const FwMechanism *m, FwLengths lengths)
{
  GPtrArray *row = g_ptr_array_new_with_free_func (g_free);
  g_ptr_array_add (row, column_name (C_ ("heading of a column", "crank"), FW_UNIT_DEG, lengths));
  if (m->design->body.ride != FW_RIDE_FIXED)
    {
      g_ptr_array_add (row, column_name (C_ ("heading of a column", "body height"), FW_UNIT_MM, lengths));
      g_ptr_array_add (row, column_name (C_ ("heading of a column", "body tilt"), FW_UNIT_DEG, lengths));
    }
  for (int i = 0; i < m->n_members; i++)
    if (m->members[i].mirror_of < 0)
      g_ptr_array_add (row, column_name (fw_log_member_name (m, i), FW_UNIT_DEG, lengths));
  for (int i = 0; i < m->n_links; i++)
    if (m->links[i].mirror_of < 0)
      {
        /* Translators: heading of a column: how squarely a rod pushes. */
        g_autofree char *what = g_strdup_printf (_ ("push of %s"), fw_log_link_name (m, i));
        g_ptr_array_add (row, column_name (what, FW_UNIT_DEG, lengths));
      }
  return row;
}

static GPtrArray *
body_row (const FwLogState *s, int step, FwLengths lengths)
{
  const FwMechanism *m = s->mechanism;
  GPtrArray *row = g_ptr_array_new_with_free_func (g_free);
  g_ptr_array_add (row, fw_units_format_bare (360.0 * step / FW_LOG_STEPS, FW_UNIT_DEG, lengths, 0));
  if (m->design->body.ride != FW_RIDE_FIXED)
    {
      add_cell (row, fw_turn_row (s->turn, m, (FwQuantity){ FW_Q_BODY_Z, 0 })[step], FW_UNIT_MM, lengths);
      add_cell (row, fw_turn_row (s->turn, m, (FwQuantity){ FW_Q_BODY_TILT, 0 })[step] * DEGREES, FW_UNIT_DEG,
                lengths);
    }
  for (int i = 0; i < m->n_members; i++)
    if (m->members[i].mirror_of < 0)
      add_cell (row, fw_turn_row (s->turn, m, (FwQuantity){ FW_Q_ANGLE, i })[step] * DEGREES, FW_UNIT_DEG,
                lengths);
  for (int i = 0; i < m->n_links; i++)
    if (m->links[i].mirror_of < 0)
      add_cell (row, fw_turn_row (s->turn, m, (FwQuantity){ FW_Q_PUSH, i })[step] * DEGREES, FW_UNIT_DEG,
                lengths);
  return row;
}

GPtrArray *
fw_log_page_table (const FwLogPage *page, FwLengths lengths)
{
  GPtrArray *rows = g_ptr_array_new_with_free_func ((GDestroyNotify)g_ptr_array_unref);
  g_ptr_array_add (rows, head_row (page->state->mechanism, lengths));
  for (int i = 0; i < TABLE_ROWS; i++)
    g_ptr_array_add (rows, body_row (page->state, i * FW_LOG_STEPS / TABLE_ROWS, lengths));
  return rows;
}

/* ---- As text ---- */

static void
say_lines (GString *out, const char *heading, const GPtrArray *lines)
{
  if (lines == NULL || lines->len == 0)
    return;
  g_string_append_printf (out, "  %s\n", heading);
  for (guint i = 0; i < lines->len; i++)
    g_string_append_printf (out, "    %s\n", ((FwLogLine *)g_ptr_array_index (lines, i))->text);
}

static void
say_note (GString *out, const char *note)
{
  g_auto (GStrv) lines = g_strsplit (note, "\n", -1);
  for (char **line = lines; *note && *line != NULL; line++)
    g_string_append_printf (out, **line ? "  %s\n" : "%s\n", *line);
}

char *
fw_logbook_text (const FwLogbook *book)
{
  GString *out = g_string_new (NULL);
  if (book->pages->len == 0)
    g_string_append (out, _ ("The log is empty.\n"));
  for (guint i = 0; i < book->pages->len; i++)
    {
      const FwLogPage *page = g_ptr_array_index (book->pages, i);
      g_autofree char *heading = fw_log_page_heading (page);
      g_string_append_printf (out, "%s%s\n", i > 0 ? "\n" : "", heading);
      say_note (out, page->note);
      for (guint k = 0; k < page->pictures->len; k += 2)
        {
          const char *caption = g_ptr_array_index (page->pictures, k + 1);
          const char *file = g_ptr_array_index (page->pictures, k);
          g_autofree char *line = *caption ? g_strdup_printf (_ ("picture: %s (%s)"), file, caption)
                                           : g_strdup_printf (_ ("picture: %s"), file);
          g_string_append_printf (out, "  %s\n", line);
        }
      say_lines (out, C_ ("heading of lines", "changed"), page->changes);
      say_lines (out, C_ ("heading of lines", "what it did"), page->effects);
      say_lines (out, C_ ("heading of lines", "trouble"), page->troubles);
    }
  for (guint i = 0; i < book->remarks->len; i++)
    g_string_append_printf (out, "\n%s\n", ((FwLogLine *)g_ptr_array_index (book->remarks, i))->text);
  return g_string_free (out, FALSE);
}
