#!/bin/sh
# Find a Chromium for the browser tests, install the system's where we may, or say what to type. Exit 0 either way:
# without one the browser tests are skipped and say the same.
found() {
  for name in chromium chromium-browser google-chrome google-chrome-stable; do
    if command -v "$name" >/dev/null 2>&1; then
      echo "Browser tests run in $(command -v "$name")"
      return 0
    fi
  done
  return 1
}

apt() {
  DEBIAN_FRONTEND=noninteractive apt-get -q -o Acquire::Retries=1 -o Acquire::http::Timeout=30 "$@" >/dev/null 2>&1
}

skipped="the browser tests are skipped"
if [ -n "${CHROMIUM:-}" ]; then
  if command -v "$CHROMIUM" >/dev/null 2>&1; then
    echo "Browser tests run in $CHROMIUM"
  else
    echo "CHROMIUM names $CHROMIUM, which is no program here: $skipped." >&2
  fi
elif found; then
  :
elif ! command -v apt-get >/dev/null 2>&1; then
  echo "No Chromium found: $skipped. Install Chromium or Chrome, or set CHROMIUM=/path/to/it" >&2
elif [ "$(id -u)" != 0 ]; then
  echo "No Chromium found: $skipped. To run them: sudo apt-get install chromium fonts-dejavu-core" >&2
else
  echo "No Chromium found: installing the system's package ..."
  if ! { apt update && apt install -y --no-install-recommends chromium fonts-dejavu-core && found; }; then
    echo "It could not be installed: $skipped. To see why: apt-get install chromium fonts-dejavu-core" >&2
  fi
fi
exit 0
