#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""gtkdrive: drive one GTK 4 program in a private Xvfb + D-Bus + AT-SPI, from outside.

    with Session(size=(1400, 1000), wm="openbox") as s:
        s.start(["./build/app"])
        s.click("button", "Save")          # real X mouse at the widget's centre
        s.press("button", "Save")          # AT-SPI action, no X events
        s.set_text("text", "Name", "Ada")
        s.key("ctrl+n"); s.type("hello"); s.drag("image", "Photo canvas", (50, 60), (150, 90))
        print(s.dump()); s.screenshot("out.png")
        s.close(); assert not s.complaints()

Every wait has a time limit; everything started is ended by its own process id.
Needs (Debian): xvfb dbus-daemon at-spi2-core python3-gi gir1.2-atspi-2.0 xdotool x11-utils imagemagick, and a
window manager (openbox) where focus between windows matters.  Use /usr/bin/python3 (python3-gi lives there).
One Session per Python process: libatspi keeps one bus connection for the life of the process.
"""
import ctypes
import os
import re
import select
import shlex
import shutil
import signal
import subprocess
import tempfile
import time
import warnings

warnings.filterwarnings("ignore", category=DeprecationWarning)
PR_SET_CHILD_SUBREAPER = 36
TREE_LIMIT = 20000          # most nodes one walk looks at
KIDS_LIMIT = 400            # most children of one node it looks at
DBUS_CONF = """<!DOCTYPE busconfig PUBLIC "-//freedesktop//DTD D-Bus Bus Configuration 1.0//EN" "http://www.freedesktop.org/standards/dbus/1.0/busconfig.dtd">
<busconfig><type>session</type><keep_umask/><listen>unix:dir=%s</listen><auth>EXTERNAL</auth>
<servicedir>%s</servicedir><policy context="default"><allow send_destination="*" eavesdrop="true"/><allow eavesdrop="true"/><allow own="*"/></policy></busconfig>
"""


class DriveError(AssertionError):
    pass


def _descendants(root):
    kids = {}
    for d in os.listdir("/proc"):
        if d.isdigit():
            try:
                with open("/proc/%s/stat" % d) as f:
                    st = f.read()
                kids.setdefault(int(st[st.rindex(")") + 2:].split()[1]), []).append(int(d))
            except OSError:
                pass
    out, todo = [], [root]
    while todo:
        for k in kids.get(todo.pop(), []):
            out.append(k)
            todo.append(k)
    return out


class Session:
    def __init__(self, size=(1400, 1000), wm=None, scale=1, dark=False, lang=None, env=None, renderer="cairo",
                 a11y=True, home=None, dpi=96, keep=False):
        self.size, self.wm, self.scale, self.a11y, self.keep = size, wm, scale, a11y, keep
        self.tmp = tempfile.mkdtemp(prefix="gtkdrive.")
        self.home = home or os.path.join(self.tmp, "home")
        self.procs, self.app, self.wid, self.Atspi, self._desktop = [], None, None, None, None
        self.first_window_s = None
        self._asked = set()
        e = {k: v for k, v in os.environ.items() if not k.startswith(("XDG_", "DBUS_", "GTK_", "GDK_", "GSK_", "LC_", "AT_SPI"))}
        for n in ("data", "config", "cache", "state", "run"):
            os.makedirs(os.path.join(self.home, n), mode=0o700, exist_ok=True)
        e.update(HOME=self.home, XDG_DATA_HOME=self.home + "/data", XDG_CONFIG_HOME=self.home + "/config",
                 XDG_CACHE_HOME=self.home + "/cache", XDG_STATE_HOME=self.home + "/state", XDG_RUNTIME_DIR=self.home + "/run",
                 GDK_BACKEND="x11", GSK_RENDERER=renderer, GSETTINGS_BACKEND="memory", GTK_USE_PORTAL="0",
                 LANG="C.UTF-8", NO_AT_BRIDGE="1", LIBGL_ALWAYS_SOFTWARE="1", G_MESSAGES_PREFIXED="all")
        if scale != 1:
            e["GDK_SCALE"] = str(scale)
        if dark:
            e["GTK_THEME"] = "Adwaita:dark"   # forces; an app that follows its own setting should be given that instead
        if lang:
            e["LANGUAGE"] = lang              # holds with LANG=C.UTF-8 (glibc 2.35 and later), not with LANG=C
        if not a11y:
            e["GTK_A11Y"] = "none"
        e.update(env or {})
        self.env, self.dpi = e, dpi
        try:
            ctypes.CDLL(None).prctl(PR_SET_CHILD_SUBREAPER, 1, 0, 0, 0)   # orphans come to us, so we can end them
            self._up()
        except BaseException:
            self.stop()
            raise

    # ---- life ----
    def _spawn(self, argv, log, **kw):
        f = open(os.path.join(self.tmp, log), "ab")
        p = subprocess.Popen(argv, stdin=subprocess.DEVNULL, stdout=kw.pop("stdout", f), stderr=f, env=self.env, **kw)
        f.close()
        self.procs.append(p)
        return p

    def _up(self):
        r, w = os.pipe()
        # -noreset: without it the server resets when its last client goes, and a start at that moment fails
        self.x = self._spawn(["Xvfb", "-displayfd", str(w), "-screen", "0", "%dx%dx24" % self.size, "-dpi", str(self.dpi), "-nolisten", "tcp", "-noreset"], "xvfb.log", pass_fds=(w,))
        os.close(w)
        num = self._readline(r, 15, "Xvfb")
        self.env["DISPLAY"] = ":" + num
        conf = os.path.join(self.tmp, "bus.conf")
        with open(conf, "w") as f:
            f.write(DBUS_CONF % (self.home + "/run", "/usr/share/dbus-1/services"))
        r, w = os.pipe()
        self._spawn(["dbus-daemon", "--config-file=" + conf, "--nofork", "--nopidfile", "--print-address=%d" % w], "dbus.log", pass_fds=(w,))
        os.close(w)
        self.env["DBUS_SESSION_BUS_ADDRESS"] = self._readline(r, 10, "dbus-daemon")
        if self.a11y:
            self._spawn(["/usr/libexec/at-spi-bus-launcher", "--launch-immediately"], "atspi.log")
        if self.wm:
            self._spawn(shlex.split(self.wm), "wm.log")
        os.environ.update({k: self.env[k] for k in ("DISPLAY", "DBUS_SESSION_BUS_ADDRESS", "XDG_RUNTIME_DIR", "HOME")})

    def _readline(self, fd, secs, who):
        buf, end = b"", time.monotonic() + secs
        while not buf.endswith(b"\n"):
            left = end - time.monotonic()
            if left <= 0 or not select.select([fd], [], [], left)[0]:
                os.close(fd)
                raise DriveError(who + " did not come up in %g s" % secs)
            b = os.read(fd, 4096)
            if not b:
                os.close(fd)
                raise DriveError(who + " ended at once: " + self._log(who))
            buf += b
        os.close(fd)
        return buf.decode().split("\n")[0]

    def _log(self, who):
        try:
            return open(os.path.join(self.tmp, {"Xvfb": "xvfb.log"}.get(who, "dbus.log")), errors="replace").read()[-800:]
        except OSError:
            return ""

    def start(self, argv, timeout=20, title=None, cwd=None, env=None):
        """Start the program, wait until its window is mapped; returns seconds to first window."""
        e = dict(self.env, **(env or {}))
        self.errfile = os.path.join(self.tmp, "app.err")
        t0 = time.monotonic()
        with open(self.errfile, "ab") as f, open(os.path.join(self.tmp, "app.out"), "ab") as o:
            self.app = subprocess.Popen(argv, stdin=subprocess.DEVNULL, stdout=o, stderr=f, env=e, cwd=cwd)
        self.procs.append(self.app)
        self.wid = self.wait_window(title, timeout)
        self.first_window_s = time.monotonic() - t0
        if self.a11y:
            self.app_node(timeout)
        return self.first_window_s

    def close(self, timeout=10):
        """Close the main window as its close button would; SIGTERM where that does not end the program.  Its exit status."""
        if self.app and self.app.poll() is None:
            try:
                self.press(self.find("frame", self._x("getwindowname", str(self.wid)), timeout=1), action="window.close")
                return self.app.wait(timeout / 2)
            except (DriveError, subprocess.TimeoutExpired):
                pass
            except Exception:      # the bus call may break off as the program goes
                try:
                    return self.app.wait(timeout / 2)
                except subprocess.TimeoutExpired:
                    pass
            self.app.terminate()
        try:
            return self.app.wait(timeout) if self.app else None
        except subprocess.TimeoutExpired:
            self.app.kill()
            return self.app.wait(2)

    def stop(self):
        for p in reversed(self.procs):
            if p.poll() is None:
                p.terminate()
        end = time.monotonic() + 3
        for p in self.procs:
            try:
                p.wait(max(0.05, end - time.monotonic()))
            except subprocess.TimeoutExpired:
                p.kill()
                p.wait(2)
        # what the buses activated (registry, launchers) is now ours, being orphans: only descendants of this process
        for sig in (signal.SIGTERM, signal.SIGKILL):
            left = _descendants(os.getpid())
            for pid in left:
                try:
                    os.kill(pid, sig)
                except OSError:
                    pass
            t = time.monotonic() + 1.0
            while time.monotonic() < t:
                try:
                    if os.waitpid(-1, os.WNOHANG)[0] == 0:
                        time.sleep(0.02)
                except OSError:
                    break
        if not self.keep:
            shutil.rmtree(self.tmp, ignore_errors=True)

    def __enter__(self):
        return self

    def __exit__(self, *a):
        self.stop()

    def alive(self):
        return self.app is not None and self.app.poll() is None

    # ---- X ----
    def _x(self, *args, timeout=10, check=True):
        p = subprocess.run(["xdotool", *args], env=self.env, stdout=subprocess.PIPE, stderr=subprocess.PIPE, timeout=timeout, text=True)
        if check and p.returncode:
            raise DriveError("xdotool %s: %s" % (" ".join(args), p.stderr.strip()))
        return p.stdout.strip()

    def windows(self, title=None):
        """Visible windows of the program, oldest first."""
        out = self._x("search", "--onlyvisible", "--name", title or "", check=False) if title else self._x("search", "--onlyvisible", "--pid", str(self.app.pid), check=False)
        return [int(w) for w in out.split()]

    def wait_window(self, title=None, timeout=10):
        end = time.monotonic() + timeout
        while time.monotonic() < end:
            if self.app.poll() is not None:
                raise DriveError("the program ended with %s before a window came:\n%s" % (self.app.returncode, self.stderr()[-2000:]))
            w = self.windows(title)
            if w:
                return w[-1]
            time.sleep(0.03)
        raise DriveError("no window %r in %g s" % (title, timeout))

    def geometry(self, wid=None):
        """x, y, w, h of an X window on the screen (xwininfo: xdotool counts a window manager's frame twice)."""
        p = subprocess.run(["xwininfo", "-id", str(wid or self.wid)], env=self.env, stdout=subprocess.PIPE, stderr=subprocess.PIPE, timeout=10, text=True)
        v = [re.search(k + r":\s+(-?\d+)", p.stdout) for k in ("Absolute upper-left X", "Absolute upper-left Y", "Width", "Height")]
        if not all(v):
            raise DriveError("no window %s: %s" % (wid or self.wid, p.stderr.strip()))
        return tuple(int(m.group(1)) for m in v)

    def _override(self, wid):
        p = subprocess.run(["xwininfo", "-id", str(wid)], env=self.env, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, timeout=10, text=True)
        return "Override Redirect State: yes" in p.stdout

    def resize(self, w, h, wid=None):
        self._x("windowsize", str(wid or self.wid), str(w), str(h))
        time.sleep(0.3)
        return self.geometry(wid)

    def key(self, *chords):
        self._x("key", "--clearmodifiers", *chords)
        time.sleep(0.1)

    def type(self, text):
        self._x("type", "--delay", "20", "--", text, timeout=10 + len(text) * 0.2)
        time.sleep(0.1)

    def mouse(self, x, y, button=1, clicks=1):
        self._x("mousemove", "--sync", str(int(x)), str(int(y)), check=False)
        time.sleep(0.05)
        if clicks:
            self._x("click", "--repeat", str(clicks), "--delay", "80", str(button))
        time.sleep(0.15)

    def drag_screen(self, x1, y1, x2, y2, steps=12, button=1):
        self._x("mousemove", str(int(x1)), str(int(y1)))
        time.sleep(0.08)
        self._x("mousedown", str(button))
        for i in range(1, steps + 1):
            self._x("mousemove", str(int(x1 + (x2 - x1) * i / steps)), str(int(y1 + (y2 - y1) * i / steps)))
            time.sleep(0.02)
        time.sleep(0.08)
        self._x("mouseup", str(button))
        time.sleep(0.15)

    def screenshot(self, path, window=None):
        """The root window, or with window=True/id one window, as PNG."""
        w = "root" if not window else str(self.wid if window is True else window)
        subprocess.run(["import", "-silent", "-window", w, path], env=self.env, timeout=20, check=True, stdout=subprocess.DEVNULL)
        return path

    # ---- AT-SPI ----
    def _atspi(self):
        if not self.Atspi:
            import gi
            gi.require_version("Atspi", "2.0")
            from gi.repository import Atspi
            Atspi.init()
            Atspi.set_timeout(3000, 5000)
            self.Atspi = Atspi
        return self.Atspi

    def app_node(self, timeout=10):
        A = self._atspi()
        end = time.monotonic() + timeout
        while time.monotonic() < end:
            d = A.get_desktop(0)
            d.clear_cache()
            for i in range(d.get_child_count()):
                try:
                    c = d.get_child_at_index(i)
                    if c and c.get_process_id() == self.app.pid:
                        return c
                except Exception:
                    pass
            if not self.alive():
                raise DriveError("the program ended: %s\n%s" % (self.app.returncode, self.stderr()[-2000:]))
            time.sleep(0.05)
        raise DriveError("the program did not appear on the accessibility bus in %g s" % timeout)

    @staticmethod
    def _clear(n):
        try:
            n.clear_cache_single()   # GTK 4 emits few cache events: read afresh
        except AttributeError:
            n.clear_cache()

    def _box(self, n):
        c = n.get_component_iface()
        if not c:
            return None
        e = c.get_extents(self.Atspi.CoordType.WINDOW)
        return e.x, e.y, e.x + e.width, e.y + e.height

    def walk(self, root=None, showing=False):
        """(depth, node), depth first.  showing: leave out what has no size, lies outside its scroller or window, or
        is on a stack page that is not the one shown.  (GTK 4.8 gives the state 'showing' to top levels only.)"""
        A = self._atspi()
        todo, seen = [(0, root or self.app_node(), None, False)], 0
        while todo and seen < TREE_LIMIT:
            d, n, clip, page = todo.pop()
            seen += 1
            try:
                self._clear(n)
                role = n.get_role()
                if showing and role not in (A.Role.APPLICATION, A.Role.DESKTOP_FRAME):
                    st = n.get_state_set()
                    if st.contains(A.StateType.DEFUNCT) or not st.contains(A.StateType.VISIBLE):
                        continue
                    b = self._box(n)
                    if b:
                        if b[2] <= b[0] or b[3] <= b[1]:
                            continue
                        if role in (A.Role.FRAME, A.Role.DIALOG, A.Role.WINDOW, A.Role.ALERT, A.Role.POPUP_MENU, A.Role.MENU):
                            clip = None
                        elif clip:
                            b = max(b[0], clip[0]), max(b[1], clip[1]), min(b[2], clip[2]), min(b[3], clip[3])
                            if b[2] <= b[0] or b[3] <= b[1]:
                                continue
                        if page and not self.mapped(n):
                            continue
                        if clip is None or role in (A.Role.SCROLL_PANE, A.Role.VIEWPORT):
                            clip = b
                yield d, n
                k = min(n.get_child_count(), KIDS_LIMIT)
                pg = showing and role == A.Role.PANEL and n.get_name() == "GtkStackPage"
                todo += [(d + 1, c, clip, pg) for c in (n.get_child_at_index(i) for i in range(k - 1, -1, -1)) if c]
            except Exception:
                continue       # gone since

    def mapped(self, node):
        """Is the node on the screen at all?  GTK 4.8.3 gives no state for that, but answers a pick inside a widget that
        isn't mapped with nothing.  It also answers so where the widget hit was never asked for yet: so ask for all once,
        and try several points.  (In that call window coordinates don't work; the parent's do.)"""
        c = node.get_component_iface()
        if not c:
            return True
        e = c.get_extents(self.Atspi.CoordType.PARENT)

        def hit():
            for fx, fy in ((.5, .5), (.01, .01), (.99, .99), (.25, .75), (.75, .25), (.5, .02), (.5, .98)):
                if c.get_accessible_at_point(e.x + int(e.width * fx), e.y + int(e.height * fy), self.Atspi.CoordType.PARENT):
                    return True
            return False
        if hit():
            return True
        if node in self._asked:
            return False
        self._asked.add(node)
        for i, _ in enumerate(self.walk(node)):
            if i > 600:
                break
        return hit()

    def _match(self, role, name, showing, root):
        for _, n in self.walk(root, showing):
            try:
                if role and n.get_role_name() != role:
                    continue
                nm = n.get_name() or ""
                m = re.match(r"(.*) \1$", nm.replace("_", ""))     # GTK 4.8 names a button made with '_Keep': '_Keep Keep'
                if m and "_" in nm:
                    nm = m.group(1)
                if name is None or (name.search(nm) if isinstance(name, re.Pattern) else nm == name):
                    yield n
            except Exception:
                pass

    def find_all(self, role=None, name=None, showing=True, root=None):
        return list(self._match(role, name, showing, root))

    def find(self, role=None, name=None, timeout=5, showing=True, root=None, index=0):
        end = time.monotonic() + timeout
        while True:
            for i, n in enumerate(self._match(role, name, showing, root)):
                if i == index:
                    return n
            if time.monotonic() > end:
                raise DriveError("no %s named %r in %g s; the tree:\n%s" % (role or "widget", getattr(name, "pattern", name), timeout, self.dump(showing=True)))
            if not self.alive():
                raise DriveError("the program ended: %s\n%s" % (self.app.returncode, self.stderr()[-2000:]))
            time.sleep(0.1)

    def gone(self, role=None, name=None, timeout=5):
        end = time.monotonic() + timeout
        while self.find_all(role, name):
            if time.monotonic() > end:
                raise DriveError("%s %r is still there" % (role, name))
            time.sleep(0.1)

    def _node(self, role, name, timeout=5):
        return role if not isinstance(role, (str, type(None))) else self.find(role, name, timeout)

    def extents(self, node):
        """x, y, w, h on the screen, in device pixels (the widget's content box: GTK leaves its padding out)."""
        A, s = self.Atspi, self.scale
        e = node.get_component_iface().get_extents(A.CoordType.WINDOW)
        wid = self.window_of(node)
        pops = [self.geometry(w) for w in self.windows() if w != wid and self._override(w)]
        n, fit = node, None
        while pops and n and n.get_role_name() not in ("application", "frame", "dialog"):
            # a popover has an X window of its own, but its widgets are placed as if that window began at its parent's corner
            c, up = n.get_component_iface(), n.get_parent()
            uc = up.get_component_iface() if up else None
            if c and uc:
                p, u = c.get_extents(A.CoordType.WINDOW), uc.get_extents(A.CoordType.WINDOW)
                for g in pops:
                    if 0 <= g[2] - p.width * s <= 40 and 0 <= g[3] - p.height * s <= 40:
                        fit = (g[0] + (e.x - u.x) * s, g[1] + (e.y - u.y) * s, e.width * s, e.height * s)   # the outermost that fits
            n = up
        if fit:
            return fit
        gx, gy, gw, gh = self.geometry(wid)
        ox, oy = self._border(node, gw, gh)
        return gx + ox + e.x * s, gy + oy + e.y * s, e.width * s, e.height * s

    def _border(self, node, gw, gh):
        """What the X window holds round the GTK window's own box (shadow or solid border)."""
        top, A = self._top(node), self.Atspi
        e = top.get_component_iface().get_extents(A.CoordType.WINDOW)
        bx, by = max(0, (gw - e.width * self.scale) // 2), max(0, (gh - e.height * self.scale) // 2)
        return bx, by

    def _top(self, node):
        n, best = node, node
        for _ in range(100):
            p = n.get_parent()
            if not p or p.get_role_name() in ("application", "desktop frame"):
                return n
            n = p
        return best

    def window_of(self, node):
        """The X window of the node's top level: by title, else by size, else the main one."""
        top, ws = self._top(node), self.windows()
        name = top.get_name() or ""
        named = [w for w in reversed(ws) if self._x("getwindowname", str(w), check=False).strip() == name]
        if name and named:
            return self.wid if self.wid in named else named[0]
        e = top.get_component_iface().get_extents(self.Atspi.CoordType.WINDOW)
        fit = [w for w in reversed(ws) if all(0 <= g - v * self.scale <= 80 for g, v in zip(self.geometry(w)[2:], (e.width, e.height)))]
        return fit[0] if fit else self.wid

    def click(self, role, name=None, button=1, clicks=1, at=None, timeout=5):
        n = self._node(role, name, timeout)
        x, y, w, h = self.extents(n)
        if w <= 0 or h <= 0:
            raise DriveError("%s %r has no size to click on" % (role, name))
        dx, dy = at if at else (w / 2, h / 2)
        self.mouse(x + dx, y + dy, button, clicks)
        return n

    def drag(self, role, name, p1, p2, **kw):
        x, y, _, _ = self.extents(self._node(role, name))
        s = self.scale
        self.drag_screen(x + p1[0] * s, y + p1[1] * s, x + p2[0] * s, y + p2[1] * s, **kw)

    def press(self, role, name=None, action=None, timeout=5):
        """Do the node's AT-SPI action, by name if given ('win.new' on a frame does that GAction), else its first."""
        n = self._node(role, name, timeout)
        for _, c in self.walk(n):
            a = c.get_action_iface()
            names = [a.get_action_name(i) for i in range(a.get_n_actions())] if a else []
            if names and (action is None or action in names):
                if not a.do_action(names.index(action) if action else 0):
                    raise DriveError("action refused by %s %r" % (role, name))
                time.sleep(0.15)
                return n
        raise DriveError("%s %r has no action" % (role, name))

    def text(self, role, name=None, timeout=5):
        n = self._node(role, name, timeout)
        self._clear(n)
        t = n.get_text_iface()
        return t.get_text(0, t.get_character_count()) if t else n.get_name()

    def value(self, role, name=None):
        v = self._node(role, name).get_value_iface()
        return v.get_current_value() if v else None

    def states(self, role, name=None):
        n = self._node(role, name)
        self._clear(n)
        return sorted(s.value_nick for s in n.get_state_set().get_states())

    def set_text(self, role, name, text):
        n = self._node(role, name)
        e = n.get_editable_text_iface()
        if e and e.set_text_contents(text):
            return n
        self.click(n)
        self.key("ctrl+a")
        self.type(text)
        return n

    def wait_text(self, want, role="label", name=None, timeout=5):
        """Wait until a node of that role has this text or name (a string, or a pattern to search for)."""
        rx = want if isinstance(want, re.Pattern) else re.compile("^" + re.escape(want) + "$")
        return self.find(role, rx, timeout)

    def dump(self, root=None, showing=False):
        A, out = self._atspi(), []
        for d, n in self.walk(root, showing):
            try:
                bits = ["  " * d + n.get_role_name()]
                if n.get_name():
                    bits.append(repr(n.get_name()))
                if n.get_description():
                    bits.append("desc=%r" % n.get_description())
                t = n.get_text_iface()
                if t:
                    s = t.get_text(0, min(60, t.get_character_count()))
                    if s and s != n.get_name():
                        bits.append("text=%r" % s)
                v = n.get_value_iface()
                if v:
                    bits.append("value=%g" % v.get_current_value())
                a = n.get_action_iface()
                names = [a.get_action_name(i) or "?" for i in range(a.get_n_actions())] if a else []
                names = [x for x in names if not x.startswith(("clipboard.", "link.", "selection.", "menu."))]   # every label has these
                if names:
                    bits.append("actions=" + ",".join(names))
                st = [x.value_nick for x in n.get_state_set().get_states()]
                bits.append("[" + " ".join(x for x in st if x in ("focused", "focusable", "checked", "selected", "selectable", "expanded", "expandable", "editable", "showing", "pressed", "modal", "active", "invalid")) + ("" if "sensitive" in st else " insensitive") + "]")
                out.append(" ".join(bits))
            except Exception as e:
                out.append("  " * d + "<%s>" % e)
        return "\n".join(out)

    # ---- what it said, what it cost ----
    def stderr(self):
        try:
            return open(self.errfile, errors="replace").read()
        except (OSError, AttributeError):
            return ""

    def complaints(self, allow=()):
        """GLib warnings and criticals, sanitizer reports, seen on stderr so far."""
        bad = [l for l in self.stderr().splitlines() if re.search(r"(-|\b)(WARNING|CRITICAL|ERROR) \*\*|ERROR: \w+Sanitizer|runtime error:", l)]
        return [l for l in bad if not any(re.search(a, l) for a in allow)]

    def memory(self):
        """RSS, peak RSS and PSS of the program in MiB."""
        d = {}
        for f, keys in (("status", {"VmRSS": "rss", "VmHWM": "peak"}), ("smaps_rollup", {"Pss": "pss"})):
            for l in open("/proc/%d/%s" % (self.app.pid, f)):
                k = l.split(":")[0]
                if k in keys:
                    d[keys[k]] = int(l.split()[1]) / 1024
        return d

    def cpu_s(self):
        with open("/proc/%d/stat" % self.app.pid) as f:
            p = f.read().rsplit(")", 1)[1].split()
        return (int(p[11]) + int(p[12])) / os.sysconf("SC_CLK_TCK")
