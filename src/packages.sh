# Sourced by src/run and tests/run: the Debian packages that building and testing need.

run_packages="gcc meson ninja-build pkg-config gettext libgtk-4-dev libcjson-dev libglib2.0-bin liblapacke-dev libsundials-dev
  libnlopt-dev libcminpack-dev libzip-dev libcgif-dev libmd4c-dev libgdk-pixbuf-2.0-dev
  adwaita-icon-theme fonts-dejavu-core fontconfig"
test_packages="$run_packages libgsl-dev xvfb xauth dbus dbus-x11 at-spi2-core xdotool x11-utils imagemagick pngcheck
  python3 python3-gi gir1.2-atspi-2.0 libgl1-mesa-dri poppler-utils valgrind desktop-file-utils clang-14
  libclang-rt-14-dev procps g++ libsimbody-dev admesh qpdf librsvg2-bin libxml2-utils unzip
  appstream shared-mime-info mandoc groff zsh fish python3-yaml i18nspector locales"

# install_missing PACKAGE...: installs those that are not there yet; says what to do if it may not.
install_missing () {
  missing=
  for package in "$@"; do
    dpkg-query -W -f '${Status}' "$package" 2>/dev/null | grep -q 'ok installed' || missing="$missing $package"
  done
  [ -n "$missing" ] || return 0
  if [ "$(id -u)" = 0 ]; then
    as_root=
  elif command -v sudo >/dev/null; then
    as_root=sudo
  else
    echo "These packages are missing; install them as root:$missing" >&2
    return 1
  fi
  echo "Installing:$missing"
  $as_root apt-get update -qq &&
    $as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $missing >/dev/null
}
