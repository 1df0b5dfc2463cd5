#!/bin/sh
# run-on-display.sh COMMAND...: on a display and a session bus of its own, without a window manager.
# The display stays whole when its last client goes (-noreset). It takes the first number that is
# free and tells it, so that several may start at once.
set -u
GSK_RENDERER=cairo
GSETTINGS_BACKEND=memory
LC_ALL=C.UTF-8
export GSK_RENDERER GSETTINGS_BACKEND LC_ALL
unset NO_AT_BRIDGE GTK_THEME WAYLAND_DISPLAY

told=$(mktemp)
Xvfb -displayfd 3 -screen 0 1600x1000x24 -nolisten tcp -noreset >/dev/null 2>&1 3>"$told" &
server=$!
trap 'kill $server 2>/dev/null; rm -f "$told"' EXIT
trap 'exit 1' INT TERM
tries=100
while [ ! -s "$told" ] && [ $tries -gt 0 ]; do
  sleep 0.1
  tries=$((tries - 1))
done
DISPLAY=:$(cat "$told")
export DISPLAY
# What the session's own services say is no output of the command.
exec 4>&1
dbus-run-session -- sh -c 'exec "$@" >&4' sh "$@" >&2
