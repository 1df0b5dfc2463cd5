/* explain: what a quantity means, in plain words, with its drawing. Needs no design. */
#include <glib/gi18n.h>
#include <string.h>

#include "cli/cli.h"
#include "doc/explain.h"
#include "draw/explainpicture.h"

typedef struct
{
  gboolean page, help;
  char *out, *folder, *units, *theme;
  char **words;
} Options;

static void
options_clear (Options *o)
{
  g_free (o->out);
  g_free (o->folder);
  g_free (o->units);
  g_free (o->theme);
  g_strfreev (o->words);
}

/* FALSE: a line was written, or the help; *status says how to exit. */
static gboolean
read_options (int argc, char **argv, Options *o, int *status)
{
  g_autoptr (GOptionContext) context = g_option_context_new (NULL);
  g_autoptr (GError) error = NULL;
  const GOptionEntry entries[] = {
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &o->out, N_ ("write its drawing: SVG, or PNG by the name's ending"), N_ ("OUT.svg") },
    { "theme", 0, 0, G_OPTION_ARG_STRING, &o->theme, N_ ("colours of the drawing: light (the default), dark or print"), N_ ("THEME") },
    { "lengths", 0, 0, G_OPTION_ARG_STRING, &o->units, N_ ("mm (the default) or inch, in words and text"), N_ ("UNIT") },
    { "page", 0, 0, G_OPTION_ARG_NONE, &o->page, N_ ("all of them as a page of the guide (Markdown)"), NULL },
    { "pictures", 0, 0, G_OPTION_ARG_FILENAME, &o->folder, N_ ("write every drawing into a folder that is there, as words-NAME.png"), N_ ("DIR") },
    { "help", 'h', 0, G_OPTION_ARG_NONE, &o->help, N_ ("Show this help"), NULL },
    { G_OPTION_REMAINING, 0, 0, G_OPTION_ARG_STRING_ARRAY, &o->words, NULL, NULL },
    { NULL },
  };
  g_option_context_set_help_enabled (context, FALSE);
  g_option_context_set_translation_domain (context, GETTEXT_PACKAGE);
  g_option_context_set_summary (context, _ ("What a quantity means, which way is positive, what is usual and what helps. Without a word: all there are."));
  g_option_context_add_main_entries (context, entries, GETTEXT_PACKAGE);
  *status = FW_EXIT_REFUSED;
  if (!g_option_context_parse (context, &argc, &argv, &error))
    {
      fw_cli_refuse ("%s: %s", "explain", error->message);
      return FALSE;
    }
  if (!o->help)
    return TRUE;
  g_autofree char *text = g_option_context_get_help (context, TRUE, NULL);
  g_autoptr (GString) out = g_string_new (text);
  g_string_replace (out, g_get_prgname (), "flapwright-cli explain [WORD]", 1);
  *status = fw_cli_print (out->str, FW_EXIT_FINE);
  return FALSE;
}

static int
print_list (void)
{
  int n, topic = -1;
  const FwExplain *const *all = fw_explain_all (&n);
  g_autoptr (GString) out = g_string_new (NULL);
  for (int i = 0; i < n; i++)
    {
      if ((int) all[i]->topic != topic)
        g_string_append_printf (out, "%s%s\n", topic >= 0 ? "\n" : "", fw_explain_topic_words (all[i]->topic));
      topic = (int) all[i]->topic;
      g_string_append_printf (out, "  %-22s %s\n", all[i]->id, fw_explain_tr (all[i]->title));
    }
  return fw_cli_print (out->str, FW_EXIT_FINE);
}

static int
write_pictures (const char *folder, FwTheme theme)
{
  int n;
  const FwExplain *const *all = fw_explain_all (&n);
  for (int i = 0; i < n; i++)
    {
      g_autofree char *name = g_strdup_printf ("words-%s.png", all[i]->id);
      g_autofree char *path = g_build_filename (folder, name, NULL);
      g_autoptr (GError) error = NULL;
      if (!fw_explain_picture_write (all[i]->id, theme, path, &error))
        return fw_cli_refuse ("%s", error->message);
    }
  return FW_EXIT_FINE;
}

static int
explain_word (const char *word, const char *out, FwTheme theme, FwLengths lengths)
{
  g_autoptr (GPtrArray) found = fw_explain_search (word);
  g_autoptr (GError) error = NULL;
  g_autoptr (GString) text = g_string_new (NULL);

  if (found->len == 0)
    return fw_cli_refuse (_ ("explain: “%s”: expected one of the words that explain lists when called alone"), word);
  if (out != NULL && found->len > 1)
    return fw_cli_refuse (_ ("explain: --output: expected a word that means one thing, “%s” means %u"), word, found->len);
  if (out != NULL)
    {
      const FwExplain *one = g_ptr_array_index (found, 0);
      return fw_explain_picture_write (one->id, theme, out, &error) ? FW_EXIT_FINE : fw_cli_refuse ("%s", error->message);
    }
  for (guint i = 0; i < found->len; i++)
    {
      g_autofree char *one = fw_explain_text (g_ptr_array_index (found, i), lengths);
      g_string_append_printf (text, "%s%s", i > 0 ? "\n" : "", one);
    }
  return fw_cli_print (text->str, FW_EXIT_FINE);
}

static int
explain (const Options *o)
{
  FwLengths lengths;
  int status;
  FwTheme theme = g_strcmp0 (o->theme, "dark") == 0 ? FW_THEME_DARK : g_strcmp0 (o->theme, "print") == 0 ? FW_THEME_PRINT : FW_THEME_LIGHT;

  if (!fw_cli_lengths ("explain", o->units, &lengths, &status))
    return status;
  if (o->theme != NULL && theme == FW_THEME_LIGHT && strcmp (o->theme, "light") != 0)
    return fw_cli_refuse (_ ("explain: --theme: expected light, dark or print, found “%s”"), o->theme);
  if (o->page)
    {
      g_autofree char *page = fw_explain_page ();
      return fw_cli_print (page, FW_EXIT_FINE);
    }
  if (o->folder != NULL)
    return write_pictures (o->folder, theme);
  if (o->words == NULL)
    return o->out == NULL ? print_list () : fw_cli_refuse (_ ("explain: --output: expected a word to draw"));
  g_autofree char *word = g_strjoinv (" ", o->words);
  return explain_word (word, o->out, theme, lengths);
}

int
fw_verb_explain (int argc, char **argv)
{
  Options o = { 0 };
  int status;
  if (read_options (argc, argv, &o, &status))
    status = explain (&o);
  options_clear (&o);
  return status;
}
