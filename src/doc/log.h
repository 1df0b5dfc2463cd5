/* The build log: dated entries kept with the design, each with the design as it was then.
 *
 * What was measured at the time is not stored: it is computed anew from the entry's design. The
 * layer has no clock, so whoever adds an entry gives its date. Every change is one step of undo. */
#pragma once

#include "doc/document.h"
#include "doc/units.h"

G_BEGIN_DECLS

/* More is refused, in a file and from a caller. */
#define FW_LOG_MOST_ENTRIES 2000
#define FW_LOG_MOST_PICTURES 100   /* of one entry */
#define FW_LOG_MOST_LETTERS 20000  /* of a note or a caption */

typedef struct
{
  const char *file;    /* path from the design's folder downwards, with / between its steps */
  const char *caption; /* one line; may be "" */
} FwLogPicture;

/* Borrowed until the next change of the document. */
typedef struct
{
  const char *date; /* ISO 8601: 2026-03-14 or 2026-03-14T18:30, see file-format.md */
  const char *note; /* plain text, may have several lines; "" if none */
  int n_pictures;
} FwLogEntry;

int fw_log_count (const FwDocument *doc);
/* FALSE if there is no such entry. Entries stand in the order of the file, first 0. */
gboolean fw_log_entry (const FwDocument *doc, int index, FwLogEntry *entry);
gboolean fw_log_picture (const FwDocument *doc, int index, int picture, FwLogPicture *out);

/* The design as it was, and the title it had then; NULL if there is no such entry. `index` equal to
 * fw_log_count (): the present one. Free with fw_design_free (). */
FwDesign *fw_log_design (const FwDocument *doc, int index);
const char *fw_log_title (const FwDocument *doc, int index);

/* Tells the designs of entries apart: the same through every change of the document, undo and redo;
 * not to be looked into. NULL if there is no such entry. */
gconstpointer fw_log_design_key (const FwDocument *doc, int index);

/* Adds the present design as an entry at the end. FALSE with FW_DOC_ERROR_INVALID where the date, the
 * note or a picture's path is not as it should be, or the log is full: nothing has changed. */
gboolean fw_log_add (FwDocument *doc, const char *date, const char *note,
                     const FwLogPicture *pictures, int n_pictures, GError **error);
gboolean fw_log_remove (FwDocument *doc, int index, GError **error);
/* Typing on at one note is one step, until fw_document_end_merge (). */
gboolean fw_log_set_note (FwDocument *doc, int index, const char *note, GError **error);
/* The design becomes that of the entry; the log stays as it is, and if `date` is given gains an entry
 * with `note` (NULL: words that say so). One step. */
gboolean fw_log_bring_back (FwDocument *doc, int index, const char *date, const char *note,
                            GError **error);

/* ---- What is valid ---- */

/* A path from the design's folder downwards. */
gboolean fw_log_path_is_valid (const char *path);
/* No control characters but, with `lines`, line ends and tabs; at most FW_LOG_MOST_LETTERS. */
gboolean fw_log_text_is_valid (const char *text, gboolean lines);

/* ---- What changed, line by line ---- */

typedef enum
{
  FW_LOG_FIRST,    /* there is nothing before it */
  FW_LOG_SAME,     /* nothing has changed */
  FW_LOG_NUMBER,   /* a number: `key`, `from`, `to` */
  FW_LOG_ADDED,    /* a part */
  FW_LOG_REMOVED,
  FW_LOG_RENAMED,
  FW_LOG_MATERIAL,
  FW_LOG_BUILT,    /* how parts are joined: ride, sides, what a rod starts from and drives */
  FW_LOG_LOOK,     /* outlines and looks */
  FW_LOG_OTHER,    /* any other key of the file */
  FW_LOG_MOTION,   /* what it did to the motion */
  FW_LOG_FORCE,
  FW_LOG_GONE,     /* trouble that is gone */
  FW_LOG_NEW,      /* trouble that is new */
  FW_LOG_TROUBLE,  /* trouble there is */
  FW_LOG_REMARK,   /* about the log itself */
} FwLogLineKind;

typedef struct
{
  FwLogLineKind kind;
  char *text;      /* a sentence, translated */
  char *key;       /* the number's key path, or NULL */
  gboolean has_values;
  double from, to; /* in `unit`; NaN where it was not, or is no longer, there */
  FwUnit unit;
} FwLogLine;

/* Lists of FwLogLine*, freed with g_ptr_array_unref (). */
GPtrArray *fw_log_lines_new (void);
/* Takes `text` over. The line belongs to the list. */
FwLogLine *fw_log_lines_add (GPtrArray *lines, FwLogLineKind kind, char *text);
/* "text", "number", "motion", ...: how JSON names a kind (static string). */
const char *fw_log_line_name (FwLogLineKind kind);

/* What changed from entry `index` - 1 to entry `index` (fw_log_count (): the present design). One line
 * FW_LOG_FIRST for the first, FW_LOG_SAME where nothing changed. Parts are known by name; one with
 * another name and nearly the same numbers counts as renamed. NULL if there is no such entry. */
GPtrArray *fw_log_changes (const FwDocument *doc, int index, FwLengths lengths);

/* A value in `unit` as a sentence of the log shows it, with as many digits as it takes to tell it from
 * `other`, three at most. Free with g_free. */
char *fw_log_figure (double value, double other, FwUnit unit, FwLengths lengths);

G_END_DECLS
