#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""dndsrc.py FILE: a small window from which the file can be dragged into another program."""

import os
import sys

import gi

gi.require_version("Gtk", "4.0")
from gi.repository import Gdk, Gio, GLib, Gtk  # noqa: E402


def show(application):
    uri = GLib.filename_to_uri(os.path.abspath(sys.argv[1]), None)
    window = Gtk.ApplicationWindow(application=application, title="drag source", default_width=120, default_height=120,
                                   decorated=False)
    label = Gtk.Label(label="file", hexpand=True, vexpand=True)
    source = Gtk.DragSource(actions=Gdk.DragAction.COPY)
    source.connect("prepare", lambda *_: Gdk.ContentProvider.new_for_bytes(
        "text/uri-list", GLib.Bytes.new((uri + "\r\n").encode())))
    label.add_controller(source)
    window.set_child(label)
    window.present()


application = Gtk.Application(flags=Gio.ApplicationFlags.NON_UNIQUE)
application.connect("activate", show)
application.run([])
