# SPDX-License-Identifier: GPL-3.0-or-later
"""The painted face of a tile and the face of a chart, as maps of reflectance seen from above.

Row 0 of a map is the far edge (largest y): maps lie as pictures do, while millimetres are counted from
the lower left corner.
"""

import numpy as np

from .colour import linear_from_lab_d50
from .scratching import distance_mm, strokes_mm

# Room about a zone in which its wavering edge may run, in millimetres.
EDGE_ROOM_MM = 2.0

# Mottling is seen at several sizes at once: grain, cloud and patch (scale in millimetres, weight).
MOTTLING_OCTAVES = ((0.35, 0.5), (1.2, 0.7), (4.0, 0.5))

# A flake has a shape of its own and a ragged rim (scale as a share of the flake's, weight).
FLAKE_OCTAVES = ((1.0, 1.0), (0.3, 0.35))

# Fingers and tools leave relief in clay at several sizes (scale in millimetres, weight).
RELIEF_OCTAVES = ((0.12, 0.35), (0.5, 0.6), (3.0, 1.0))

# Grains of sand in the clay: their size in millimetres and how far they leave its reflectance.
GRAIN_MM, GRAIN_CONTRAST = 0.13, 0.35

# A scratch: half its width in millimetres, and what its shaded floor still reflects.
SCRATCH_HALF_WIDTH_MM, SCRATCH_FLOOR = 0.4, 0.5

# A melted paint flows: the share of the relief that it leaves.
GLAZE_RELIEF = 0.07

# No clay or paint reflects more than this.
HIGHEST_REFLECTANCE = 0.97

# Which thing a stream of random numbers is for; with the scene's seed it makes the stream.
(GROUND_STREAM, EDGE_STREAM, PAINT_STREAM, FLAKE_STREAM, STREAK_STREAM, RELIEF_STREAM,
 SCRATCH_STREAM) = range(7)


def random_stream(seed, stream, item=0):
    """Random numbers that depend on nothing but the scene's seed, the use and the item's number."""
    return np.random.default_rng([seed, stream, item])


def smooth_noise(shape, scale_texels, rng):
    """Gaussian noise of mean 0 and rms 1, smoothed to a scale (one number, or one each way)."""
    scale_y, scale_x = np.broadcast_to(scale_texels, 2)
    fy = np.fft.fftfreq(shape[0])[:, None]
    fx = np.fft.rfftfreq(shape[1])[None, :]
    gain = np.exp(-2 * np.pi ** 2 * ((fy * scale_y) ** 2 + (fx * scale_x) ** 2))
    noise = np.fft.irfft2(np.fft.rfft2(rng.standard_normal(shape)) * gain, shape)
    noise -= noise.mean()
    return noise / noise.std()


def layered_noise(shape, octaves, unit_texels, rng):
    """The sum of smooth noises of several scales, again of mean 0 and rms 1."""
    total = sum(weight * smooth_noise(shape, scale * unit_texels, rng) for scale, weight in octaves)
    return total / total.std()


def whole_texels(length_mm, texels_per_mm):
    """A length in texels; a map that ended within a texel would be stretched by the ray tracer."""
    texels = round(length_mm * texels_per_mm)
    if abs(texels - length_mm * texels_per_mm) > 1e-6:
        raise ValueError(f"{length_mm} mm is no whole number of texels at {texels_per_mm} per mm")
    return texels


class Face:
    """A tile's painted face in one state.

    reflectance: rows × columns × 3, linear sRGB
    code: rows × columns; 0 bare ground, i the paint of the i-th zone, N + i ground laid bare in zone i
    retained: per zone, the share of its painted area that still holds paint (None: a bare control)
    height_mm: rows × columns, relief over the level face; None for a scene without relief
    """

    def __init__(self, scene, state):
        self.scene = scene
        self.state = state
        self.texels_per_mm = scene["texels_per_mm"]
        width_mm, height_mm = scene["piece"]["tile_mm"]
        self.shape = whole_texels(height_mm, self.texels_per_mm), whole_texels(width_mm, self.texels_per_mm)
        self.code = np.zeros(self.shape, np.uint8)
        self.retained = []
        self.height_mm = None
        self._lay_ground()
        for number, zone in enumerate(scene["zones"], start=1):
            self._paint_zone(number, zone)
        for number, scratch in enumerate(scene.get("scratches", [])):
            self._scratch(number, scratch)

    def _lay_ground(self):
        ground = self.scene["ground"]
        rng = random_stream(self.scene["seed"], GROUND_STREAM)
        mottling = ground["mottling_fraction"] * layered_noise(
            self.shape, MOTTLING_OCTAVES, self.texels_per_mm, rng)
        if "grit_fraction" in ground:
            mottling = mottling + grit(self.shape, ground["grit_fraction"], self.texels_per_mm, rng)
        self.reflectance = mottled(ground[self.state]["lab_d50"], mottling)
        if "relief_rms_mm" in self.scene:
            rng = random_stream(self.scene["seed"], RELIEF_STREAM)
            self.height_mm = self.scene["relief_rms_mm"] * layered_noise(
                self.shape, RELIEF_OCTAVES, self.texels_per_mm, rng)

    def _paint_zone(self, number, zone):
        state = zone["states"][self.state]
        rows, columns = self._window(zone["geometry"])
        inside = self._inside(number, zone, rows, columns)
        if zone.get("bare_control"):
            self.code[rows, columns][inside] = number
            self.retained.append(None)
            return

        kept = self._kept(number, state, inside)
        reflectance = mottled(state["lab_d50"], self._paint_mottling(number, zone, inside.shape))
        self.reflectance[rows, columns][kept] = reflectance[kept]
        self.code[rows, columns][kept] = number
        self.code[rows, columns][inside & ~kept] = len(self.scene["zones"]) + number
        self.retained.append(kept.sum() / inside.sum())
        if self.height_mm is not None:
            levelled = GLAZE_RELIEF if state["gloss_class"] == "glossy" else 1.0
            thickness = self.scene["paint_thickness_mm"] * self._paint_body(number, inside.shape)
            height = self.height_mm[rows, columns]
            height[kept] = levelled * (height[kept] + thickness[kept])

    def _window(self, geometry):
        """The rows and columns that a zone can reach."""
        n_rows, n_columns = self.shape
        top = n_rows - (geometry["y1"] + EDGE_ROOM_MM) * self.texels_per_mm
        bottom = n_rows - (geometry["y0"] - EDGE_ROOM_MM) * self.texels_per_mm
        left = (geometry["x0"] - EDGE_ROOM_MM) * self.texels_per_mm
        right = (geometry["x1"] + EDGE_ROOM_MM) * self.texels_per_mm
        return (slice(max(0, round(top)), min(n_rows, round(bottom))),
                slice(max(0, round(left)), min(n_columns, round(right))))

    def _inside(self, number, zone, rows, columns):
        """Which texels of the window the zone covers: its rectangle, pushed about by smooth noise."""
        geometry = zone["geometry"]
        x, y = self._millimetres(rows, columns)
        rng = random_stream(self.scene["seed"], EDGE_STREAM, number)
        wobble_mm = zone["states"][self.state]["edge_wobble_rms_mm"]
        scale = zone["edge_scale_mm"] * self.texels_per_mm
        x = x + wobble_mm * smooth_noise(x.shape, scale, rng)
        y = y + wobble_mm * smooth_noise(y.shape, scale, rng)
        return rounded_rectangle(x, y, geometry, zone.get("corner_radius_mm", 0.0))

    def _kept(self, number, state, inside):
        """Where paint still holds: the lowest share of a noise field over the zone."""
        if state["retained_target"] >= 1:
            return inside
        rng = random_stream(self.scene["seed"], FLAKE_STREAM, number)
        field = layered_noise(inside.shape, FLAKE_OCTAVES,
                              state["flake_scale_mm"] * self.texels_per_mm, rng)
        return inside & (field <= np.quantile(field[inside], state["retained_target"]))

    def _paint_body(self, number, shape):
        """Thickness of a coat about 1: thick and thin as the brush left it."""
        rng = random_stream(self.scene["seed"], STREAK_STREAM, number)
        return 1 + 0.35 * brush_streaks(shape, self.texels_per_mm, rng)

    def _scratch(self, number, scratch):
        """Draw a code into the clay with a point: it lies deeper and darker. Only bare ground is scratched."""
        rng = random_stream(self.scene["seed"], SCRATCH_STREAM, number)
        strokes = strokes_mm(scratch["text"], scratch["x_mm"], scratch["y_mm"], scratch["height_mm"], rng)
        low = np.min([stroke.min(axis=0) for stroke in strokes], axis=0) - EDGE_ROOM_MM
        high = np.max([stroke.max(axis=0) for stroke in strokes], axis=0) + EDGE_ROOM_MM
        rows, columns = self._window({"x0": low[0], "y0": low[1], "x1": high[0], "y1": high[1]})
        x, y = self._millimetres(rows, columns)
        depth = np.zeros(x.shape)
        for stroke in strokes:
            across = distance_mm(x, y, stroke) / SCRATCH_HALF_WIDTH_MM
            depth = np.maximum(depth, np.clip(1 - across ** 2, 0, 1))
        depth *= self.code[rows, columns] == 0
        self.reflectance[rows, columns] *= (1 - (1 - SCRATCH_FLOOR) * depth[..., None]).astype(np.float32)
        if self.height_mm is not None:
            self.height_mm[rows, columns] -= self.scene["scratch_depth_mm"] * depth

    def _millimetres(self, rows, columns):
        """x and y of the texels of a window."""
        x = (np.arange(columns.start, columns.stop) + 0.5) / self.texels_per_mm
        y = (self.shape[0] - np.arange(rows.start, rows.stop) - 0.5) / self.texels_per_mm
        return np.meshgrid(x, y)

    def _paint_mottling(self, number, zone, shape):
        rng = random_stream(self.scene["seed"], PAINT_STREAM, number)
        mottling = zone["mottling_fraction"] * layered_noise(shape, MOTTLING_OCTAVES,
                                                             self.texels_per_mm, rng)
        if zone.get("brush_streak_fraction"):
            rng = random_stream(self.scene["seed"], STREAK_STREAM, number)
            mottling += zone["brush_streak_fraction"] * brush_streaks(shape, self.texels_per_mm, rng)
        return mottling


def mottled(lab_d50, mottling):
    """Reflectance of a colour whose every channel is multiplied by one plus the mottling."""
    linear = linear_from_lab_d50(lab_d50)
    return np.clip(linear * (1 + mottling[..., None]), 0, HIGHEST_REFLECTANCE).astype(np.float32)


def rounded_rectangle(x, y, geometry, radius_mm):
    """Which points lie in a rectangle with rounded corners."""
    inner_x = np.clip(x, geometry["x0"] + radius_mm, geometry["x1"] - radius_mm)
    inner_y = np.clip(y, geometry["y0"] + radius_mm, geometry["y1"] - radius_mm)
    return np.hypot(x - inner_x, y - inner_y) <= radius_mm


def grit(shape, area_fraction, texels_per_mm, rng):
    """Grains of sand that cover a share of the area, half of them darker than the clay, half lighter."""
    noise = smooth_noise(shape, GRAIN_MM * texels_per_mm, rng)
    dark, light = np.quantile(noise, [area_fraction / 2, 1 - area_fraction / 2])
    return np.where(noise < dark, -GRAIN_CONTRAST, np.where(noise > light, GRAIN_CONTRAST, 0.0))


def brush_streaks(shape, texels_per_mm, rng):
    """Streaks of a brush drawn from left to right: long along the stroke, fine across it."""
    streaks = smooth_noise(shape, (0.15 * texels_per_mm, 6 * texels_per_mm), rng)
    strokes = smooth_noise(shape, (1.0 * texels_per_mm, 9 * texels_per_mm), rng)
    total = 0.7 * streaks + 0.7 * strokes
    return total / total.std()


class ChartFace:
    """A chart's face: reflectance, and a code per texel (0 frame, k the k-th patch from 1)."""

    TEXELS_PER_MM = 10

    def __init__(self, chart):
        width_mm, height_mm = chart["frame_mm"]
        shape = whole_texels(height_mm, self.TEXELS_PER_MM), whole_texels(width_mm, self.TEXELS_PER_MM)
        self.texels_per_mm = self.TEXELS_PER_MM
        self.code = np.zeros(shape, np.uint8)
        self.reflectance = np.empty(shape + (3,), np.float32)
        self.reflectance[:] = linear_from_lab_d50(chart["frame_lab_d50"])
        for number, patch in enumerate(chart["patches"], start=1):
            x0, y0, x1, y1 = (round(edge * self.TEXELS_PER_MM) for edge in patch["rect_mm"])
            window = slice(shape[0] - y1, shape[0] - y0), slice(x0, x1)
            self.code[window] = number
            self.reflectance[window] = linear_from_lab_d50(patch["lab_d50"])
