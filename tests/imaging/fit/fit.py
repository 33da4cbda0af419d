#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""fit.py -- fits the networks of core-segment-net.c on drawn strips.

    fit.py train OUT.npz SEED MINUTES BLANK FOLDER [KINDS [START.npz [HIGH LOW]]]
    fit.py score IN.npz... -- BLANK STRIPS...          (count right, by kind and level)
    fit.py table IN.npz... -- HEADER.h REFERENCE.h     (weights; what they must answer)

Needs torch; a CUDA device where there is one. FOLDER holds *.bin of draw-strips, kind fit; files that
appear while it trains are read too. KINDS such as 0,1 leaves the other ways of drawing out; START goes
on from there; HIGH and LOW are the rates of learning at first and at last. BLANK is what `calibrate blank` prints: the templates of core-segment.c, and their sums
without evidence. One network learns from everything at once: the posterior over counts as
core-segment.c makes it (recursion over plate lengths and count head, mixed), the places of the
boundaries given the true count, each line by itself, and both parts alone. Lanes are mirrored, strips
stretched, shifted, bowed and slanted a little, noise added, lanes and patches dropped, the sign of
light and colour flipped, so that it learns sutures and not how they were drawn. The recipe of the
pictures is recipe.c.
"""
import glob
import math
import sys
import time

import numpy as np
import torch
import torch.nn.functional as F

LANES, N, C, TAPS, BIN, HIDDEN, COUNTS = 11, 256, 48, 9, 16, 20, 8
DILATION = (1, 2, 4, 8, 16)
LEAK = 0.1
BATCH = 1024
MARGIN, SHORTEST, LONGEST, CLIP, NEAR = 20, 6, 132, 12.0, 4.0  # as core-segment.c; NEAR: samples
WIDE = N + 2 * MARGIN
SPAN = WIDE + 1
POOLED = 2 * C * (N // BIN + 2)
TRUTH = 15
RECORD = 33 * WIDE + 4 * TRUTH
MOST = 700_000  # strips
PRIOR = (.06, .03, .09, .27, .16, .27, .09, .03)
DEVICE = "cuda" if torch.cuda.is_available() else "cpu"
KIND_NAMES = ("plain", "varied", "relief", "pen", "signal")


def load(name, kinds=None):
    raw = np.fromfile(name, np.int8)
    raw = raw[: raw.size // RECORD * RECORD].reshape(-1, RECORD)
    t = np.frombuffer(raw[:, 33 * WIDE:].tobytes(), "<f4").reshape(-1, TRUTH)
    if kinds is not None:
        keep = np.isin(t[:, 2], kinds)
        raw, t = raw[keep], t[keep]
    x = torch.from_numpy(raw[:, : 33 * WIDE].reshape(-1, 3, LANES, WIDE).copy())
    return x, torch.from_numpy(t.copy())


def index_of(t):
    k = t[:, 1].long()
    return torch.where(k == 0, k, (k - 3).clamp(1, 7))


class Net(torch.nn.Module):
    """The same sums as core_segment_net, one reading (not mirrored)."""

    def __init__(self):
        super().__init__()
        self.conv = torch.nn.ModuleList(
            torch.nn.Conv1d(33 if d == 1 else C, C, TAPS, dilation=d, padding=4 * d) for d in DILATION)
        self.whole = torch.nn.Linear(2 * C, C, bias=False)
        self.line = torch.nn.Conv1d(C, 1, 1)
        self.count1 = torch.nn.Linear(POOLED, HIDDEN)
        self.count2 = torch.nn.Linear(HIDDEN, COUNTS)
        self.mix = torch.nn.Parameter(torch.tensor([0.5, 0.5]))
        for i, c in enumerate(self.conv):
            torch.nn.init.kaiming_normal_(c.weight, a=LEAK, nonlinearity="leaky_relu")
            torch.nn.init.zeros_(c.bias)
            c.weight.data.mul_(.5 if i else 1.0)
        torch.nn.init.normal_(self.whole.weight, std=0.03)
        torch.nn.init.constant_(self.line.bias, -3.0)
        torch.nn.init.zeros_(self.count2.weight)

    def forward(self, x):
        h = F.leaky_relu(self.conv[0](x.flatten(1, 2)), LEAK)
        h = h + F.leaky_relu(self.conv[1](h), LEAK)
        start = self.whole(torch.cat([h.mean(2), h.amax(2)], 1))
        h = h + F.leaky_relu(self.conv[2](h) + start[:, :, None], LEAK)
        h = h + F.leaky_relu(self.conv[3](h), LEAK)
        h = h + F.leaky_relu(self.conv[4](h), LEAK)
        mid = h[:, :, MARGIN: MARGIN + N].reshape(len(h), C, N // BIN, BIN)
        ends = h[:, :, :MARGIN], h[:, :, MARGIN + N:]
        mean = torch.cat([ends[0].mean(2, True), mid.mean(3), ends[1].mean(2, True)], 2)
        top = torch.cat([ends[0].amax(2, True), mid.amax(3), ends[1].amax(2, True)], 2)
        pool = torch.cat([mean.flatten(1), top.flatten(1)], 1)
        return self.line(h)[:, 0], self.count2(F.leaky_relu(self.count1(pool), LEAK))


class Rows:
    """The forward recursion of core-segment.c over all templates at once."""

    def __init__(self, blank_file):
        words = [line.split() for line in open(blank_file, encoding="ascii")]
        self.plates = [int(w[0]) for w in words]
        weight = torch.tensor([float(w[1]) for w in words], dtype=torch.float64)
        blank = torch.tensor([float(w[2]) for w in words], dtype=torch.float64)
        means = [[float(v) for v in w[3:]] for w in words]
        i = torch.arange(SPAN, dtype=torch.float64) - MARGIN
        self.start = torch.where(i <= MARGIN, self.end_weight(i), 0.0).float().to(DEVICE)
        self.end = torch.where(i >= N - MARGIN, self.end_weight(i - N), 0.0).float().to(DEVICE)
        d = torch.arange(SPAN)[None, :] - torch.arange(SPAN)[:, None]
        ok = (d >= SHORTEST) & (d <= LONGEST)
        d = d.clamp(min=1).double()
        self.step = []
        for j in range(10):
            rows = []
            for k, mean in zip(self.plates, means):
                if j < k:
                    sd = .25 if j in (0, k - 1) else .14
                    z = (d.log() - math.log(mean[j] * N)) / sd
                    rows.append(torch.where(ok, (-.5 * z * z).exp() / (d * sd), 0.0))
            self.step.append(torch.stack(rows).float().to(DEVICE) if rows else None)
        self.offset = (weight.log() - blank.log()).float().to(DEVICE)
        self.of = [torch.tensor([t for t, k in enumerate(self.plates) if k == c]).to(DEVICE) for c in range(4, 11)]

    @staticmethod
    def end_weight(off):
        return (-.5 * (off / 4.0) ** 2).exp() + .2 * (-.5 * (off / 11.0) ** 2).exp()

    @staticmethod
    def odds(line):
        line = torch.cat([line[:, :1], line, line[:, -1:]], 1)
        return (.5 * (line[:, :-1] + line[:, 1:])).clamp(-CLIP, CLIP).exp()

    def logs(self, odds):
        """log (sum over rows of each count / the same without evidence): [batch, 7]"""
        s = self.start.expand(len(self.plates), len(odds), SPAN)
        scale, out, first = 0.0, [None] * len(self.plates), 0
        for j in range(10):
            s = torch.bmm(s, self.step[j][-s.shape[0]:])
            while first < len(self.plates) and self.plates[first] == j + 1:
                total = (s[0] * self.end).sum(-1)
                here = scale[0] if torch.is_tensor(scale) else 0.0
                out[first] = (total + 1e-37).log() + here + self.offset[first]
                s = s[1:]
                scale = scale[1:] if torch.is_tensor(scale) else scale
                first += 1
            if first == len(self.plates):
                break
            s = s * odds
            top = s.detach().amax(-1, keepdim=True).clamp(min=1e-30)
            s = s / top
            scale = scale + top[..., 0].log()
        out = torch.stack(out, 1)
        return torch.stack([out[:, t].logsumexp(1) for t in self.of], 1)


class Augment:
    def __init__(self):
        self.flips = torch.tensor([.25, .5, .5], device=DEVICE)
        self.tau = torch.linspace(-.8, .8, LANES, device=DEVICE)[None, :, None]
        self.at = ((torch.arange(WIDE, device=DEVICE) + .5 - MARGIN) / N)[None, None]
        self.along = torch.linspace(0, 1, WIDE, device=DEVICE)[None, None, None]
        self.across = torch.linspace(0, 1, LANES, device=DEVICE)[None, None, :, None]
        self.colour = torch.tensor([False, True, True], device=DEVICE)[None, :, None, None]

    def __call__(self, x, t):
        b = len(x)

        def rand(*shape):
            return torch.rand(*shape, device=DEVICE)

        def normal(*shape):
            return torch.randn(*shape, device=DEVICE)

        x = x.float() / 127.0
        x = torch.where(rand(b, 1, 1, 1) < .5, x.flip(2), x)
        x = x * torch.where(rand(b, 3) < self.flips, -1.0, 1.0)[:, :, None, None]
        x = torch.where(rand(b, 1, 1, 1) < .3, torch.stack([x[:, 0], x[:, 2], x[:, 1]], 1), x)
        stretch, shift = 1 + .02 * normal(b), .012 * normal(b)
        bow = (.006 * normal(b, 1, 1) * self.tau * self.tau + .004 * normal(b, 1, 1) * self.tau)
        at = ((self.at / stretch[:, None, None] + shift[:, None, None] + bow) * N - .5 + MARGIN).clamp(0, WIDE - 1)
        lo = at.long().clamp(max=WIDE - 2)
        f = (at - lo)[:, None]
        lo = lo[:, None].expand(b, 3, LANES, WIDE)
        x = x.gather(3, lo) * (1 - f) + x.gather(3, lo + 1) * f
        pos = t[:, 3:]
        pos = torch.where(pos > -1, (pos - shift[:, None]) * stretch[:, None], pos)
        soft = torch.cat([x[..., :1], x, x[..., -1:]], 3)
        soft = .25 * soft[..., :-2] + .5 * x + .25 * soft[..., 2:]
        x = x + (rand(b, 1, 1, 1) - .35) * (rand(b, 1, 1, 1) < .4) * (soft - x)  # softer or sharper
        faint = .25 * rand(b, 1, 1, 1) * (rand(b, 1, 1, 1) < .25)
        x = x + faint * x.roll(1, 0).flip(3)  # a trace of another picture's lines
        x = x * (.25 * normal(b, 3, 1, 1)).exp()
        x = x + .25 * rand(b, 1, 1, 1) ** 3 * normal(b, 3, LANES, WIDE)
        x = torch.where(rand(b, 1, LANES, 1) < .07, torch.zeros_like(x), x)
        hole = ((self.along - rand(b, 1, 1, 1)).abs() < .06 * rand(b, 1, 1, 1)) & \
            ((self.across - rand(b, 1, 1, 1)).abs() < .4 * rand(b, 1, 1, 1)) & (rand(b, 1, 1, 1) < .3)
        x = torch.where(hole, normal(b, 3, 1, 1).expand_as(x), x)
        x = torch.where((rand(b, 1, 1, 1) < .1) & self.colour, torch.zeros_like(x), x)
        return x.clamp(-1.2, 1.2), pos


def line_target(pos):
    grid = torch.arange(WIDE, device=DEVICE) + .5 - MARGIN
    z = (grid[None, None] - pos[:, :, None] * N) / 1.3
    y = (-.5 * z * z).exp() * (pos > -1)[:, :, None]
    return y.amax(1)


def losses(net, rows, x, pos, t, prior):
    k = index_of(t)
    line, head = net(x)
    odds = rows.odds(line)
    node = torch.arange(SPAN, device=DEVICE) - MARGIN
    near = ((node[None, None] - pos[:, :, None] * N).abs() <= NEAR) & (pos > -1)[:, :, None]
    both = rows.logs(torch.cat([odds, odds * near.any(1)]))
    every, true = both[: len(x)], both[len(x):]
    logs = torch.cat([torch.zeros_like(every[:, :1]), every.clamp(min=-60)], 1)
    mixed = net.mix[0] * logs + net.mix[1] * head + prior
    own = (k - 1).clamp(min=0)[:, None]
    places = (every.gather(1, own) - true.gather(1, own))[:, 0]
    places = torch.where((k > 0) & (places < 50), places, torch.zeros_like(places)).mean()
    alone = F.binary_cross_entropy_with_logits(line, line_target(pos), reduction="none").sum(1).mean()
    return torch.stack([F.cross_entropy(mixed, k), F.cross_entropy(head + prior, k),
                        F.cross_entropy(logs + prior, k), places, alone,
                        (mixed.argmax(1) == k).float().mean(), ((logs + prior).argmax(1) == k).float().mean()])


class Pictures:
    """Strips on the device; more are read as they appear."""

    def __init__(self, folder, kinds):
        most = MOST if DEVICE == "cuda" else 20_000
        self.folder, self.kinds, self.seen, self.n = folder, kinds, set(), 0
        self.x = torch.empty((most, 3, LANES, WIDE), dtype=torch.int8, device=DEVICE)
        self.t = torch.empty((most, TRUTH), device=DEVICE)
        self.size = torch.zeros((), device=DEVICE)

    def read(self, limit=1e9):
        begun = time.time()
        for name in sorted(set(glob.glob(self.folder + "/*.bin")) - self.seen):
            x, t = load(name, self.kinds)
            m = min(len(x), len(self.x) - self.n)
            self.x[self.n: self.n + m] = x[:m].to(DEVICE)
            self.t[self.n: self.n + m] = t[:m].to(DEVICE)
            self.n += m
            self.seen.add(name)
            if time.time() - begun > limit:
                break
        self.size.fill_(self.n)

    def batch(self):
        pick = (torch.rand(BATCH, device=DEVICE) * self.size).long()
        return self.x[pick], self.t[pick]


class Learner:
    def __init__(self, pictures, blank, start):
        self.pictures, self.rows, self.augment = pictures, Rows(blank), Augment()
        self.net = Net().to(DEVICE) if start is None else read(start)
        self.net.train()
        n = torch.bincount(index_of(pictures.t[: pictures.n]), minlength=COUNTS).float() + 1
        self.prior = (n / n.sum()).log()
        self.rate = torch.tensor(1e-4, device=DEVICE) if DEVICE == "cuda" else 1e-4
        self.adam = torch.optim.AdamW(self.net.parameters(), lr=self.rate, weight_decay=2e-2,
                                      capturable=DEVICE == "cuda")
        self.weights = list(self.net.parameters())
        self.slow = [w.detach().clone() for w in self.weights]
        self.part = torch.zeros(7, device=DEVICE)
        self.graph = None

    def step(self):
        x, t = self.pictures.batch()
        xb, pos = self.augment(x, t)
        part = losses(self.net, self.rows, xb, pos, t, self.prior)
        self.adam.zero_grad(set_to_none=False)
        (part[0] + .5 * part[1] + .5 * part[2] + .15 * part[3] + .02 * part[4]).backward()
        for w in self.weights:
            if w.grad is not None:
                w.grad.nan_to_num_(0.0, 0.0, 0.0)
        torch.nn.utils.clip_grad_norm_(self.weights, 3.0)
        self.adam.step()
        self.part.lerp_(part.detach(), .02)

    def prepare(self):
        """One recording of the step, played again and again: launching costs more than computing."""
        if DEVICE != "cuda":
            return
        side = torch.cuda.Stream()
        side.wait_stream(torch.cuda.current_stream())
        with torch.cuda.stream(side):
            for _ in range(4):
                self.step()
        torch.cuda.current_stream().wait_stream(side)
        try:
            graph = torch.cuda.CUDAGraph()
            with torch.cuda.graph(graph):
                self.step()
            self.graph = graph
        except RuntimeError as why:
            print("no recording:", why, flush=True)

    def go(self, rate):
        if DEVICE == "cuda":
            self.rate.fill_(rate)
        else:
            self.adam.param_groups[0]["lr"] = rate
        if self.graph is not None:
            self.graph.replay()
        else:
            self.step()

    def average(self, keep):
        with torch.no_grad():
            for s, w in zip(self.slow, self.weights):
                s.lerp_(w.detach(), 1 - keep)

    def save(self, name):
        names = [n for n, _ in self.net.named_parameters()]
        np.savez(name, **{n: s.cpu().numpy() for n, s in zip(names, self.slow)})


def train(name, seed, minutes, blank, folder, kinds=None, start=None, high=3e-3, low=1e-5):
    high, low = float(high), float(low)
    torch.backends.cuda.matmul.allow_tf32 = torch.backends.cudnn.allow_tf32 = True
    torch.backends.cudnn.benchmark = True
    torch.manual_seed(seed)
    pictures = Pictures(folder, None if kinds in (None, "all") else [float(k) for k in kinds.split(",")])
    pictures.read()
    learner = Learner(pictures, blank, start)
    learner.prepare()
    begun, step, said, saved = time.time(), 0, 0.0, time.time()
    print(f"{name}: {pictures.n} strips on {DEVICE}", flush=True)
    while (done := (time.time() - begun) / (60 * minutes)) < 1.0:
        learner.go(min(1, (step + 1) / 400) * (low + (high - low) * .5 * (1 + math.cos(math.pi * done))))
        step += 1
        if step % 10 == 0:
            learner.average(min(.98, step / (step + 200)))
        if step % 100 == 0 and DEVICE == "cuda":
            torch.cuda.synchronize()
        if time.time() - said > 20:
            said = time.time()
            if done < .85:
                pictures.read(4.0)
            words = "joint %.3f head %.3f rows %.3f places %.3f lines %.2f right %.3f by rows %.3f" % tuple(
                learner.part.tolist())
            print(f"{name} {100 * done:.0f} %, {pictures.n} strips, step {step} "
                  f"({step * BATCH / max(1, pictures.n):.1f} rounds): {words}, mix "
                  f"{learner.net.mix[0].item():.2f} {learner.net.mix[1].item():.2f}", flush=True)
        if time.time() - saved > 60:
            saved = time.time()
            learner.save(name)
    learner.save(name)


def read(name):
    net = Net()
    net.load_state_dict({key: torch.from_numpy(v) for key, v in np.load(name).items()})
    return net.to(DEVICE).eval()


def as_shipped(net):
    """The weights as the table rounds them."""
    with torch.no_grad():
        for m in [*net.conv, net.whole, net.count1, net.count2]:
            flat = m.weight.reshape(len(m.weight), -1)
            scale = flat.abs().amax(1, keepdim=True) / 127 + 1e-12
            m.weight.copy_(((flat / scale).round() * scale).reshape(m.weight.shape))
    return net


def answer(nets, x):
    """Mean over networks and over both readings."""
    line = head = 0
    for net in nets:
        for v in (x, x.flip(2)):
            a, b = net(v)
            line, head = line + a / (2 * len(nets)), head + b / (2 * len(nets))
    return line, head


@torch.no_grad()
def score(names, blank, files):
    nets, rows = [as_shipped(read(n)) for n in names], Rows(blank)
    mix = sum(n.mix for n in nets) / len(nets)
    prior = torch.tensor(PRIOR, device=DEVICE).log()
    for name in files:
        x, t = (v.to(DEVICE) for v in load(name))
        k, got = index_of(t), []
        for i in range(0, len(x), 256):
            line, head = answer(nets, x[i: i + 256].float() / 127)
            logs = rows.logs(rows.odds(line)).clamp(min=-60)
            logs = torch.cat([torch.zeros_like(logs[:, :1]), logs], 1)
            mixed = mix[0] * logs + mix[1] * head + prior
            got.append(torch.stack([mixed.argmax(1), (logs + prior).argmax(1), (head + prior).argmax(1),
                                    (mixed.softmax(1).amax(1) * 1000).long()], 1))
        got = torch.cat(got)
        out = []
        for lv in range(0, 6):
            m = (t[:, 0] == lv) & (k > 0) if lv else k == 0
            out.append("%.3f (%.3f %.3f)" % tuple((got[m, c] == k[m]).float().mean().item() for c in range(3)))
        sure = (got[:, 3] >= 800) & (k > 0)
        print(f"{'+'.join(names)} on {name}, {len(x)} strips: none, levels 1-5 joint (rows, head): {'  '.join(out)}; "
              f"sure {(sure.sum() / (k > 0).sum()):.2f}, right {(got[sure, 0] == k[sure]).float().mean():.3f}",
              flush=True)


def packed(values, form):
    out, row = [], ""
    for v in values:
        word = form(v) + ","
        if len(row) + len(word) > 100:
            out.append(row)
            row = ""
        row += word
    return "\n".join(out + [row])


def real(v):
    s = f"{float(v):.7g}"
    return (s if "." in s or "e" in s else s + ".0") + "f"


def whole_numbers(f, name, weight):
    flat = weight.reshape(len(weight), -1)
    scale = flat.abs().amax(1, keepdim=True) / 127 + 1e-12
    q = (flat / scale).round().int()
    f.write(f"\nstatic const signed char {name}[{q.numel()}] = {{\n{packed(q.flatten().tolist(), str)}\n}};\n")
    reals(f, name + "_scale", scale)


def reals(f, name, values):
    values = values.flatten().tolist()
    f.write(f"static const float {name}[{len(values)}] = {{\n{packed(values, real)}\n}};\n")


HEAD = """/* SPDX-License-Identifier: GPL-3.0-or-later */
/* %s -- generated by tests/imaging/fit/fit.py; do not edit. %s
 * clang-format off */
#pragma once
"""


@torch.no_grad()
def table(names, header, reference):
    nets = [read(n).cpu() for n in names]
    with open(header, "w", encoding="ascii") as f:
        f.write(HEAD % ("core-segment-net-table.h", "Weights fitted on drawn\n * pictures: whole numbers times "
                        "the scale of their row."))
        f.write(f"\n#define SEGMENT_NETS {len(nets)}\n#define SEGMENT_NET_CHANNELS {C}\n"
                f"#define SEGMENT_NET_HIDDEN {HIDDEN}\n")
        for n, net in enumerate(nets):
            for i, conv in enumerate(net.conv):
                whole_numbers(f, f"segment_net{n}_w{i + 1}", conv.weight)
                reals(f, f"segment_net{n}_b{i + 1}", conv.bias)
            whole_numbers(f, f"segment_net{n}_whole", net.whole.weight)
            reals(f, f"segment_net{n}_line", torch.cat([net.line.weight.flatten(), net.line.bias]))
            whole_numbers(f, f"segment_net{n}_count1", net.count1.weight)
            reals(f, f"segment_net{n}_count1_b", net.count1.bias)
            whole_numbers(f, f"segment_net{n}_count2", net.count2.weight)
            reals(f, f"segment_net{n}_count2_b", net.count2.bias)
    nets = [as_shipped(n).double() for n in nets]
    row = torch.arange(33, dtype=torch.float64)[:, None]
    at = torch.arange(WIDE, dtype=torch.float64)[None]
    with open(reference, "w", encoding="ascii") as f:
        f.write(HEAD % ("net-reference.h", "What the networks answer\n * in double precision, by torch, to "
                        "sin (.11 (v + 1) at + .7 row) + .3 sin (.9 row at / (v + 2))."))
        f.write("\nstatic const struct\n{\n  double count_log[8], line[37]; /* every eighth sample, from the first before the base */\n"
                "} net_reference[] = {\n")
        for v in range(3):
            x = (.11 * (v + 1) * at + .7 * row).sin() + .3 * (.9 * row * at / (v + 2)).sin()
            line, head = answer(nets, x.reshape(1, 3, LANES, WIDE))
            f.write("  { {\n%s },\n{\n%s } },\n" % (packed(head[0].tolist(), lambda v: f"{v:.6f}"),
                                                    packed(line[0, ::8].tolist(), lambda v: f"{v:.6f}")))
        f.write("};\n")


def main():
    verb, *rest = sys.argv[1:]
    if verb == "train":
        train(rest[0], int(rest[1]), float(rest[2]), *rest[3:])
        return
    at = rest.index("--")
    if verb == "score":
        score(rest[:at], rest[at + 1], rest[at + 2:])
    elif verb == "table":
        table(rest[:at], rest[at + 1], rest[at + 2])
    else:
        sys.exit(__doc__)


if __name__ == "__main__":
    main()
