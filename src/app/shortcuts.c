#include "app/shortcuts.h"

#include <glib/gi18n.h>

static const FwShortcut shortcuts[] = {
  { FW_KEYS_FILE, "win.new", { "<Control>n" }, N_ ("New design") },
  { FW_KEYS_FILE, "app.new-window", { "<Control><Shift>n" }, N_ ("New window") },
  { FW_KEYS_FILE, "win.open", { "<Control>o" }, N_ ("Open") },
  { FW_KEYS_FILE, "win.save", { "<Control>s" }, N_ ("Save") },
  { FW_KEYS_FILE, "win.save-as", { "<Control><Shift>s" }, N_ ("Save as") },
  { FW_KEYS_FILE, "win.title", { "F2" }, N_ ("Title of the design") },
  { FW_KEYS_FILE, "win.export", { "<Control>e" }, N_ ("Export the motion strip") },
  { FW_KEYS_FILE, "win.build-log", { "<Control>l" }, N_ ("Build log") },
  { FW_KEYS_FILE, "win.log-note", { "<Control><Shift>l" }, N_ ("Note this state in the build log") },
  { FW_KEYS_FILE, "win.workshop", { "<Control>b" }, N_ ("Workshop: cut list, templates, parts, kit sheet, stock; and back") },
  { FW_KEYS_FILE, "win.close", { "<Control>w" }, N_ ("Close the window") },
  { FW_KEYS_FILE, "app.quit", { "<Control>q" }, N_ ("Quit") },

  { FW_KEYS_EDIT, "win.undo", { "<Control>z" }, N_ ("Undo") },
  { FW_KEYS_EDIT, "win.redo", { "<Control><Shift>z", "<Control>y" }, N_ ("Redo") },
  { FW_KEYS_EDIT, "win.find", { "<Control>f" }, N_ ("Find a number") },
  { FW_KEYS_EDIT, "win.trouble", { "<Alt>y" }, N_ ("To the trouble, worst first") },
  { FW_KEYS_EDIT, "win.tolerance", { "<Control>t" }, N_ ("Made by hand: odds that it goes round, and what matters most") },
  { FW_KEYS_EDIT, "win.scale", { "<Control>k" }, N_ ("Another size") },
  { FW_KEYS_EDIT, "win.real-thing", { "<Control>r" }, N_ ("The real thing: what was measured, and what was built") },
  { FW_KEYS_EDIT, "win.measure-here", { "<Control>m" }, N_ ("Add a measurement at the present crank angle") },
  { FW_KEYS_EDIT, "win.lengths::mm", { "<Alt>m" }, N_ ("Lengths in millimetres") },
  { FW_KEYS_EDIT, "win.lengths::inch", { "<Alt>i" }, N_ ("Lengths in inches") },

  { FW_KEYS_CRANK, "win.play", { "space" }, N_ ("Play, pause") },
  { FW_KEYS_CRANK, "win.play-back", { "<Shift>space" }, N_ ("Play backwards, pause") },
  { FW_KEYS_CRANK, "win.crank-forth", { "<Alt>Right" }, N_ ("Turn on by 1°") },
  { FW_KEYS_CRANK, "win.crank-back", { "<Alt>Left" }, N_ ("Turn back by 1°") },
  { FW_KEYS_CRANK, "win.crank-forth-fine", { "<Alt><Control>Right" }, N_ ("Turn on by 0.1°") },
  { FW_KEYS_CRANK, "win.crank-back-fine", { "<Alt><Control>Left" }, N_ ("Turn back by 0.1°") },
  { FW_KEYS_CRANK, "win.flag-next", { "<Alt>Page_Down" }, N_ ("To the next flag") },
  { FW_KEYS_CRANK, "win.flag-previous", { "<Alt>Page_Up" }, N_ ("To the flag before") },
  { FW_KEYS_CRANK, "win.bounce-next", { "<Alt><Shift>Page_Down" }, N_ ("To the next bounce point") },
  { FW_KEYS_CRANK, "win.bounce-previous", { "<Alt><Shift>Page_Up" }, N_ ("To the bounce point before") },
  { FW_KEYS_CRANK, "win.crank-angle", { "<Control>g" }, N_ ("Type a crank angle") },

  { FW_KEYS_VIEW, "win.view::front", { "<Control>1" }, N_ ("Front view alone") },
  { FW_KEYS_VIEW, "win.view::side", { "<Control>2" }, N_ ("Side view alone") },
  { FW_KEYS_VIEW, "win.view::both", { "<Control>3" }, N_ ("Front and side views") },
  { FW_KEYS_VIEW, "win.view::three-quarter", { "<Control>4" }, N_ ("Three-quarter view") },
  { FW_KEYS_VIEW, "win.fit", { "<Control>0" }, N_ ("Fit the whole turn") },
  { FW_KEYS_VIEW, "win.zoom-in", { "<Control>plus", "<Control>equal" }, N_ ("Zoom in") },
  { FW_KEYS_VIEW, "win.zoom-out", { "<Control>minus" }, N_ ("Zoom out") },
  { FW_KEYS_VIEW, "win.margin", { "F9" }, N_ ("Numbers, trouble and loads in sight") },
  { FW_KEYS_VIEW, "win.page::numbers", { "<Alt>u" }, N_ ("Numbers and trouble in the margin") },
  { FW_KEYS_VIEW, "win.page::loads", { "<Alt>l" }, N_ ("Loads in the margin") },
  { FW_KEYS_VIEW, "win.aim", { "<Alt>a" }, N_ ("Wishes in the margin") },
  { FW_KEYS_VIEW, "win.helps", { "<Alt>e" }, N_ ("What helps, in the margin") },
  { FW_KEYS_VIEW, "win.versions", { "<Alt>k" }, N_ ("Versions in the margin") },
  { FW_KEYS_VIEW, "app.appearance::light", { "<Alt>1" }, N_ ("Light") },
  { FW_KEYS_VIEW, "app.appearance::dark", { "<Alt>2" }, N_ ("Dark") },
  { FW_KEYS_VIEW, "app.appearance::follow", { "<Alt>3" }, N_ ("As the desktop") },
  { FW_KEYS_VIEW, "app.contrast", { "<Alt>4" }, N_ ("High contrast") },

  { FW_KEYS_SHOW, "win.show-traces", { "<Alt>p" }, N_ ("Paths of tips and joints") },
  { FW_KEYS_SHOW, "win.show-ghosts", { "<Alt>w" }, N_ ("Where it was and will be") },
  { FW_KEYS_SHOW, "win.show-swept", { "<Alt>r" }, N_ ("Room it sweeps") },
  { FW_KEYS_SHOW, "win.show-dimensions", { "<Alt>d" }, N_ ("Dimensions") },
  { FW_KEYS_SHOW, "win.show-stops", { "<Alt>h" }, N_ ("Hinge stops") },
  { FW_KEYS_SHOW, "win.show-trouble", { "<Alt>t" }, N_ ("Trouble, on the part") },
  { FW_KEYS_SHOW, "win.show-forces", { "<Alt>f" }, N_ ("Forces") },
  { FW_KEYS_SHOW, "win.show-weights", { "<Alt><Shift>f" }, N_ ("Weights") },
  { FW_KEYS_SHOW, "win.show-swing", { "<Alt>s" }, N_ ("Swing of hanging panels") },
  { FW_KEYS_SHOW, "win.show-bands", { "<Alt>o" }, N_ ("Bands of what is made") },
  { FW_KEYS_SHOW, "win.show-names", { "<Alt>n" }, N_ ("Names of parts") },
  { FW_KEYS_SHOW, "win.show-handles", { "<Alt>g" }, N_ ("Grips to drag") },
  { FW_KEYS_SHOW, "win.show-scale-bar", { "<Alt>b" }, N_ ("Scale bar") },
  { FW_KEYS_SHOW, "win.show-sides", { "<Alt>v" }, N_ ("Name of the view, right and left") },

  { FW_KEYS_HELP, "win.help", { "F1" }, N_ ("What this means, with the keyboard on a number, load, trouble or wish; else help and cautions") },
  { FW_KEYS_HELP, "win.guide", { "<Control><Shift>F1" }, N_ ("The guide") },
  { FW_KEYS_HELP, "win.shortcuts", { "<Control>question", "<Control>slash" }, N_ ("Keys") },
  { FW_KEYS_HELP, "win.first-steps", { "<Shift>F1" }, N_ ("Three things to try") },
  { FW_KEYS_HELP, "win.about", { "<Control>F1" }, N_ ("About the program") },
  { FW_KEYS_HELP, "win.main-menu", { "F10" }, N_ ("Main menu") },

  /* In one place only. */
  { FW_KEYS_CRANK, NULL, { "Left", "Right" }, N_ ("In the turn strip: by 1°, with Ctrl by 0.1°") },
  { FW_KEYS_CRANK, NULL, { "Page_Up", "Page_Down" }, N_ ("In the turn strip: from flag to flag") },
  { FW_KEYS_CRANK, NULL, { "<Shift>Page_Up", "<Shift>Page_Down" }, N_ ("In the turn strip: from bounce point to bounce point") },
  { FW_KEYS_CRANK, NULL, { "Home", "End" }, N_ ("In the turn strip: to either end of the turn") },
  { FW_KEYS_VIEW, NULL, { "bracketleft", "bracketright" }, N_ ("In a view: from grip to grip; arrows move it") },
  { FW_KEYS_FILE, NULL, { "<Control>1", "<Control>5" }, N_ ("In the workshop: from its first to its last page") },
  { FW_KEYS_VIEW, NULL, { "Up", "Down" }, N_ ("In a view, with the wishes in the margin: where the picked panel should be; Shift goes farther") },
  { FW_KEYS_EDIT, NULL, { "Left", "Right" }, N_ ("On a slider: a step, with Ctrl finer, with Shift coarser") },
};

const FwShortcut *
fw_shortcuts (int *n)
{
  *n = G_N_ELEMENTS (shortcuts);
  return shortcuts;
}

const char *
fw_key_section_label (FwKeySection section)
{
  static const char *const labels[FW_N_KEY_SECTIONS] = {
    [FW_KEYS_FILE] = N_ ("Design"), [FW_KEYS_EDIT] = N_ ("Numbers"), [FW_KEYS_CRANK] = N_ ("Crank"),
    [FW_KEYS_VIEW] = N_ ("Views"),  [FW_KEYS_SHOW] = N_ ("What is shown"), [FW_KEYS_HELP] = N_ ("Help"),
  };
  return _(labels[section]);
}

/* The first key of an action as people read it, e.g. "Ctrl+S"; NULL: none. Free with g_free. */
static char *
shortcut_text (const char *action)
{
  for (gsize i = 0; i < G_N_ELEMENTS (shortcuts); i++)
    {
      guint key;
      GdkModifierType mods;
      if (g_strcmp0 (shortcuts[i].action, action) == 0 && gtk_accelerator_parse (shortcuts[i].accels[0], &key, &mods))
        return gtk_accelerator_get_label (key, mods);
    }
  return NULL;
}

void
fw_shortcut_tooltip (GtkWidget *widget, const char *text, const char *action)
{
  g_autofree char *keys = shortcut_text (action);
  if (keys == NULL)
    {
      gtk_widget_set_tooltip_text (widget, text);
      return;
    }
  /* Translators: what a control does, and its keys in brackets */
  g_autofree char *both = g_strdup_printf (C_ ("tooltip", "%s (%s)"), text, keys);
  gtk_widget_set_tooltip_text (widget, both);
}

static gboolean
is_late (const FwShortcut *shortcut)
{
  return g_strcmp0 (shortcut->accels[0], "space") == 0 || g_strcmp0 (shortcut->accels[0], "<Shift>space") == 0;
}

void
fw_shortcuts_install (GtkApplication *app)
{
  for (gsize i = 0; i < G_N_ELEMENTS (shortcuts); i++)
    if (shortcuts[i].action != NULL && !is_late (&shortcuts[i]))
      gtk_application_set_accels_for_action (app, shortcuts[i].action, (const char *const *) shortcuts[i].accels);
}

GtkEventController *
fw_shortcuts_late_keys (void)
{
  GtkEventController *controller = gtk_shortcut_controller_new ();
  for (gsize i = 0; i < G_N_ELEMENTS (shortcuts); i++)
    if (shortcuts[i].action != NULL && is_late (&shortcuts[i]))
      gtk_shortcut_controller_add_shortcut (
          GTK_SHORTCUT_CONTROLLER (controller),
          gtk_shortcut_new (gtk_shortcut_trigger_parse_string (shortcuts[i].accels[0]),
                            gtk_named_action_new (shortcuts[i].action)));
  return controller;
}
