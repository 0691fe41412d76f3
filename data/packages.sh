# data/packages.sh: what must be installed, by group; read by data/demo/run.sh and tests/run.sh
#
# SPDX-License-Identifier: GPL-3.0-or-later

packages_build='gcc libc6-dev meson ninja-build pkg-config gettext libglib2.0-dev-bin
 libgtk-4-dev libjson-glib-dev libpng-dev libjpeg62-turbo-dev liblcms2-dev libgsl-dev libexif-dev
 libcmocka-dev'
packages_show='adwaita-icon-theme fonts-cantarell librsvg2-common'
packages_headless='xvfb xauth dbus openbox xcompmgr xdotool x11-utils imagemagick at-spi2-core
 python3 python3-gi gir1.2-atspi-2.0'
packages_test='libxtst-dev python3-numpy python3-pil python3-skimage desktop-file-utils appstream shared-mime-info poppler-utils'

# Those of "$@" that are not installed.
packages_missing () {
  for package in "$@"; do
    case $(dpkg-query -W -f='${db:Status-Status}' "$package" 2> /dev/null) in
      installed) ;;
      *) printf '%s ' "$package" ;;
    esac
  done
}

# Installs what is missing of "$@", or says what to install; ends the script where it cannot.
packages_need () {
  if ! command -v dpkg-query > /dev/null || ! command -v apt-get > /dev/null; then
    for tool in meson ninja pkg-config cc; do
      command -v $tool > /dev/null && continue
      echo "This is not a Debian system. Please install: a C compiler, meson (1.0), ninja," \
        "pkg-config, gettext, and the development files of GTK 4 (4.8), json-glib, libpng," \
        "libjpeg-turbo, Little CMS 2, GSL, libexif and cmocka." >&2
      exit 1
    done
    return 0
  fi
  missing=$(packages_missing "$@")
  [ -n "$missing" ] || return 0
  as_root=''
  if [ "$(id -u)" != 0 ]; then
    if command -v sudo > /dev/null; then
      as_root=sudo
    else
      echo "Please install as root: apt-get install $missing" >&2
      exit 1
    fi
  fi
  echo "Installing: $missing"
  $as_root apt-get update -q > /dev/null &&
    DEBIAN_FRONTEND=noninteractive $as_root apt-get install -q -y --no-install-recommends \
      $missing > /dev/null || {
    echo "apt-get could not install: $missing" >&2
    exit 1
  }
}
