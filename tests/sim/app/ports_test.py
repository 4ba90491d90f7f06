"""`understudy ports`, and serial ports by their USB ids, on a machine that has none: in a mount
namespace of its own the test puts a /dev and a /sys in place that hold USB adapters as Linux shows
them (Documentation/ABI/testing/sysfs-bus-usb: idVendor, idProduct, manufacturer, product, serial
of a device), with pseudo-terminals for ports. pyserial is the second opinion on what is there."""

import json
import os
import pty
import subprocess
import sys
import tempfile
import time
import unittest

PROGRAM = os.path.join(os.environ["UNDERSTUDY_BUILD_ROOT"], "understudy")
TRAM = os.path.join(os.environ["UNDERSTUDY_SOURCE_ROOT"], "scenarios/tram/tram.panel.toml")
PATIENCE_S = 20
INSIDE = "UNDERSTUDY_TEST_INSIDE"  # set where the namespace is entered already


def enter_namespace():
    """Starts this test again in a namespace; does not return."""
    ways = [["unshare", "-m"], ["unshare", "-r", "-m"]]
    for way in ways if os.geteuid() == 0 else ways[1:]:
        if subprocess.run([*way, "true"], stderr=subprocess.DEVNULL).returncode == 0:
            os.environ[INSIDE] = "1"
            os.execvp(way[0], [*way, sys.executable, "-B", *sys.argv])
    print("skipped: this system lets nobody make a mount namespace")
    sys.exit(0)


def mount(*words):
    subprocess.run(["mount", *words], check=True)


class Machine:
    """A /dev and a /sys of our own. Kept until the namespace ends."""

    def __init__(self, folder):
        self.masters = {}
        dev = os.path.join(folder, "dev")
        os.mkdir(dev)
        mount("-t", "tmpfs", "tmpfs", dev)
        for name in ("null", "zero", "urandom", "tty"):
            open(os.path.join(dev, name), "w").close()
            mount("--bind", "/dev/" + name, os.path.join(dev, name))
        os.mkdir(dev + "/pts")
        mount("-t", "devpts", "-o", "newinstance,ptmxmode=0666", "devpts", dev + "/pts")
        os.mkdir(dev + "/shm")
        os.symlink("pts/ptmx", dev + "/ptmx")
        mount("--rbind", dev, "/dev")
        mount("-t", "tmpfs", "tmpfs", "/sys")
        os.makedirs("/sys/class/tty")
        os.makedirs("/sys/bus/usb-serial")

    def plug(self, name, ids=None, texts=None):
        """A port /dev/NAME; with ids on USB, `texts` being what its device says of itself."""
        master, slave = pty.openpty()
        self.masters[name] = master
        os.symlink(os.ttyname(slave), "/dev/" + name)
        os.close(slave)
        usb = "/sys/devices/usb1/1-" + name
        there = "/sys/devices/pnp0/" + name if ids is None else usb + "/1-0:1.0/" + name
        os.makedirs(there + "/tty/" + name)
        os.symlink(there, there + "/tty/" + name + "/device")
        os.symlink("/sys/bus/usb-serial" if ids else "/sys/bus", there + "/subsystem")
        if ids:
            values = {"busnum": "1", "devnum": "7", "idVendor": ids[0], "idProduct": ids[1],
                      "bNumInterfaces": "1", **(texts or {})}
            for key, value in values.items():
                with open(os.path.join(usb, key), "w", encoding="utf-8") as file:
                    file.write(value + "\n")
        os.symlink(os.path.relpath(there + "/tty/" + name, "/sys/class/tty"),
                   "/sys/class/tty/" + name)

    def pull(self, name):
        os.remove("/sys/class/tty/" + name)
        os.remove("/dev/" + name)
        subprocess.run(["rm", "-r", *[path for path in ("/sys/devices/usb1/1-" + name,
                                                        "/sys/devices/pnp0/" + name)
                                      if os.path.exists(path)]], check=True)
        os.close(self.masters.pop(name))


def run(*words):
    done = subprocess.run([PROGRAM, *words], capture_output=True, text=True, timeout=PATIENCE_S,
                          stdin=subprocess.DEVNULL, check=False)
    return done.returncode, done.stdout, done.stderr


def seen_by_pyserial():
    """Path and USB hardware ids of each port; None without pyserial."""
    code = ("import json; from serial.tools.list_ports import comports; print(json.dumps("
            "[[p.device, p.vid, p.pid, p.serial_number, p.manufacturer, p.product]"
            " for p in comports()]))")
    for python in (sys.executable, "/usr/bin/python3"):
        done = subprocess.run([python, "-c", code], capture_output=True, text=True)
        if done.returncode == 0:
            return json.loads(done.stdout)
    sys.exit("no pyserial: install the package python3-serial")


class PortsTest(unittest.TestCase):
    maxDiff = None

    @classmethod
    def setUpClass(cls):
        cls.folder = tempfile.mkdtemp()
        cls.machine = Machine(cls.folder)

    def plug(self, name, *rest):
        self.machine.plug(name, *rest)
        self.addCleanup(lambda: name in self.machine.masters and self.machine.pull(name))

    def test_a_machine_without_ports_gets_a_sentence(self):
        self.assertEqual(run("ports"),
                         (0, "no serial port is here now; plug an adapter in and ask again\n", ""))
        self.assertEqual(run("ports", "--json"), (0, "[]\n", ""))

    def test_each_port_is_told_with_what_to_type(self):
        self.plug("ttyUSB0", ("1209", "0001"),
                  {"manufacturer": "Depot", "product": "Tram desk", "serial": "TRAM7"})
        self.plug("ttyACM1", ("1209", "0a02"), {"product": "Lamp board"})
        code, text, _ = run("ports")
        self.assertEqual(code, 0)
        self.assertEqual(text, """/dev/ttyACM1
  is       Lamp board
  USB      1209:0a02, no serial number
  type     --serial usb:1209:0a02, or --serial /dev/ttyACM1

/dev/ttyUSB0
  is       Tram desk
  maker    Depot
  USB      1209:0001, serial number TRAM7
  type     --serial usb:1209:0001:TRAM7, or --serial /dev/ttyUSB0
""")

    def test_another_library_finds_the_same_ports(self):
        self.plug("ttyUSB0", ("1209", "0001"),
                  {"manufacturer": "Depot", "product": "Tram desk", "serial": "TRAM7"})
        self.plug("ttyUSB10", ("1209", "0a02"), {"product": "Lamp board"})
        self.plug("ttyUSB9", ("1209", "0a02"), {"serial": "x y"})
        ours = [[port["path"], int(port["usb"]["vid"], 16), int(port["usb"]["pid"], 16),
                 port["usb"]["serial_number"] or None, port["usb"]["maker"] or None,
                 port["usb"]["product"] or None] for port in json.loads(run("ports", "--json")[1])]
        self.assertEqual([port[0] for port in ours],
                         ["/dev/ttyUSB0", "/dev/ttyUSB9", "/dev/ttyUSB10"])
        self.assertEqual(sorted(ours, key=lambda port: port[0]),
                         sorted(seen_by_pyserial(), key=lambda port: port[0]))

    def test_two_that_are_alike_are_named_by_their_paths(self):
        for name in ("ttyUSB0", "ttyUSB1"):
            self.plug(name, ("1209", "0a02"), {"product": "Lamp board"})
        types = [port["type"] for port in json.loads(run("ports", "--json")[1])]
        self.assertEqual(types, ["/dev/ttyUSB0", "/dev/ttyUSB1"])
        self.assertEqual(run("ports")[1].count("(its USB ids do not tell it from another one)"), 2)
        code, out, err = run("serve", TRAM, "--serial", "usb:1209:0a02", "--for", "1ms")
        self.assertEqual((code, out), (3, ""))
        self.assertIn("2 serial ports are usb:1209:0a02: the ports here are /dev/ttyUSB0", err)

    def test_what_a_device_says_of_itself_cannot_play_with_the_terminal(self):
        self.plug("ttyUSB0", ("1209", "0001"),
                  {"product": "\x1b[2Jdesk \u00e9", "serial": "it's; rm"})
        text = run("ports")[1]
        self.assertNotIn("\x1b", text)
        self.assertIn("\\x1b[2Jdesk", text)
        self.assertIn("--serial 'usb:1209:0001:it'\\''s; rm', or", text)

    def test_serve_finds_a_port_by_its_ids_and_again_under_another_name(self):
        identity = (("1209", "0001"), {"product": "Tram desk", "serial": "TRAM7"})
        self.plug("ttyUSB0", *identity)
        serve = subprocess.Popen([PROGRAM, "serve", TRAM, "--serial", "usb:1209:1:TRAM7"],
                                 stdin=subprocess.DEVNULL, stdout=subprocess.PIPE,
                                 stderr=subprocess.PIPE, text=True)
        self.addCleanup(serve.communicate)
        self.addCleanup(serve.kill)
        self.assertEqual(serve.stdout.readline(), "ready seat=tram serial=/dev/ttyUSB0\n")
        self.assertRegex(self.first_line("ttyUSB0"), rb"tram-desk 1|[0-9,]+")
        self.machine.pull("ttyUSB0")
        self.wait_for(serve, "tram: the port /dev/ttyUSB0 went away; going on, and opening it "
                             "again when usb:1209:0001:TRAM7 returns\n")
        self.plug("ttyUSB0", ("1209", "0001"), {"serial": "TRAM8"})
        self.plug("ttyUSB3", *identity)
        self.wait_for(serve, "tram: the port /dev/ttyUSB0 is back as /dev/ttyUSB3\n")
        self.assertRegex(self.first_line("ttyUSB3"), rb"tram-desk 1|[0-9,]+")

    def first_line(self, name):
        data = b""
        end = time.monotonic() + PATIENCE_S
        while data.count(b"\n") < 2 and time.monotonic() < end:
            data += os.read(self.machine.masters[name], 100)
        return data.split(b"\n")[1]

    def wait_for(self, serve, line):
        for said in serve.stderr:
            if said == line:
                return
        self.fail("serve ended without saying " + line)


if __name__ == "__main__":
    if INSIDE not in os.environ:
        enter_namespace()
    unittest.main()
