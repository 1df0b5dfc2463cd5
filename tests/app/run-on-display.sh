#!/bin/sh
# run-on-display.sh COMMAND...: on a display and a session bus of its own, without a window manager.
GSK_RENDERER=cairo
GSETTINGS_BACKEND=memory
LC_ALL=C.UTF-8
export GSK_RENDERER GSETTINGS_BACKEND LC_ALL
unset NO_AT_BRIDGE GTK_THEME
exec xvfb-run -a -s "-screen 0 1600x1000x24" dbus-run-session -- "$@"
