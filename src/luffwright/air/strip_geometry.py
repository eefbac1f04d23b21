"""The strips of the lattice: their numbering, their linear maps, and how the air meets them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.linalg import block_diag

from luffwright.air.astern import from_leech
from luffwright.air.lattice_mesh import SheetMesh
from luffwright.air.nose import nose_holds
from luffwright.arrays import FloatArray
from luffwright.frames import cross


@dataclass(frozen=True)
class Strips:
    """Numbering of all strips and their linear maps.

    `luff`, `leech`, `belly` weights of the nodes; `kernel` the strip's influence on itself for unit
    chord; `fit` the weights of A0 and `bend` those of A1 on the control points' wash; `spread` from
    strips to nodes; `whole` the mean of each sail; `nose` radius of the luff [m]; `blend` the mean
    of each strip with its neighbours on the same sail: separation is a cell wider than a strip, and
    without this a stalled sail has many solutions with strips stalled by turns (Chattot's viscosity
    in lifting-line theory, Wind Energy 7, 2004, from memory).
    """

    count: int
    panels: int
    luff: FloatArray
    leech: FloatArray
    belly: FloatArray
    spread: FloatArray
    kernel: FloatArray
    fit: FloatArray
    bend: FloatArray
    blend: FloatArray
    whole: FloatArray
    nose: FloatArray


def _whole(meshes: tuple[SheetMesh, ...]) -> FloatArray:
    """Return the mean over each sail, for each of its strips."""
    return block_diag(*(np.full((m.strips, m.strips), 1.0 / m.strips) for m in meshes))


def _blend(meshes: tuple[SheetMesh, ...]) -> FloatArray:
    """Return the mean of each strip with its neighbours, 1/4 1/2 1/4, the sail's ends held."""
    count = sum(mesh.strips for mesh in meshes)
    blend = np.zeros((count, count))
    first = 0
    for mesh in meshes:
        last = first + mesh.strips - 1
        for strip in range(first, last + 1):
            blend[strip, strip] += 0.5
            blend[strip, max(strip - 1, first)] += 0.25
            blend[strip, min(strip + 1, last)] += 0.25
        first = last + 1
    return blend


def strips_of(meshes: tuple[SheetMesh, ...], noses: tuple[float, ...] = ()) -> Strips:
    """Return the strips of several sails that share the number of panels along a chord.

    Parameters
    ----------
    meshes : tuple of SheetMesh
        One a sail.
    noses : tuple of float
        Radius of each luff; as thick as the law of the stall knows if not given. [m]

    Returns
    -------
    Strips

    Examples
    --------
    >>> from luffwright.air.lattice_mesh import sheet_mesh
    >>> strips_of((sheet_mesh(10, 8), sheet_mesh(10, 8))).count
    18
    """
    panels = meshes[0].panels
    count = sum(mesh.strips for mesh in meshes)
    nodes = sum(mesh.rows * mesh.columns for mesh in meshes)
    luff, leech, belly = (np.zeros((count, nodes)) for _ in range(3))
    spread = np.zeros((nodes, count))
    strip = first = 0
    for mesh in meshes:
        for j in range(mesh.strips):
            low, high = first + j * mesh.columns, first + (j + 1) * mesh.columns
            for node in (low, high):
                luff[strip, node] = 0.5
                leech[strip, node + panels] = 0.5
                belly[strip, node + 1 : node + panels] = 0.5 / max(panels - 1, 1)
                spread[node : node + panels + 1, strip] += 0.5 / (panels + 1)
            strip += 1
        first += mesh.rows * mesh.columns
    k, i = np.arange(panels)[:, None], np.arange(panels)[None, :]
    bound = np.eye(panels) - np.eye(panels, k=-1)
    kernel = -panels / (2.0 * np.pi) / (k - i + 0.5) @ bound
    cosine = 1.0 - 2.0 * (np.arange(panels) + 0.75) / panels
    theta = np.arccos(cosine)
    modes = np.stack([np.cos(n * theta) for n in range(min(3, panels))], axis=1)
    mean, first_mode = np.vstack([np.linalg.pinv(modes), np.zeros(panels)])[:2]
    radius = np.array(noses or [np.inf] * len(meshes))
    return Strips(
        count, panels, luff, leech, belly, spread, kernel, -mean, first_mode, _blend(meshes),
        _whole(meshes), np.repeat(radius, [mesh.strips for mesh in meshes]),
    )  # fmt: skip


@dataclass(frozen=True)
class StripGeometry:
    """The strips as the air meets them.

    `chord` normal to the span [m], `height` along the span [m], `stream` the onset [m/s], `speed`
    of it normal to the span [m/s], `sense` of the sail's belly (+1 full to leeward, -1 backed,
    0 flat) [-], `panel` areas [m²], `holds`: the incidence parameter that the luff's nose holds
    [rad], `chord_line` as a vector [m], unit vector along the `span`, `astern` the share of a plate
    that the wind meets from its leech [-].

    The sense is the whole sail's: a strip that luffs alone swings its belly to and fro, and a load
    that turned with each swing would have no mean place to hold it.
    """

    chord: FloatArray
    height: FloatArray
    stream: FloatArray
    speed: FloatArray
    sense: FloatArray
    panel: FloatArray
    holds: FloatArray
    chord_line: FloatArray
    span: FloatArray
    astern: FloatArray


def strip_geometry(
    strips: Strips, nodes: FloatArray, stream: FloatArray, normal: FloatArray, spanwise: FloatArray
) -> StripGeometry:
    """Return the strips' chords, onset and belly's sense at the nodes given.

    Parameters
    ----------
    strips : Strips
    nodes : (..., n, 3) array
        Of all sails, in any number of shapes. Frame: boat. [m]
    stream : (..., r, 3) array
        Onset at each panel's control point. [m/s]
    normal : (..., r, 3) array
        Of each panel, as long as its area. [m²]
    spanwise : (..., r, 3) array
        Tangent of each panel from foot to head. [m]

    Returns
    -------
    StripGeometry
    """
    luff, leech = strips.luff @ nodes, strips.leech @ nodes
    by_strip = (*spanwise.shape[:-2], strips.count, strips.panels)
    span_axis = spanwise.reshape(*by_strip, 3).sum(axis=-2)
    span_axis /= np.linalg.norm(span_axis, axis=-1, keepdims=True) + 1e-12
    chord = cross(cross(span_axis, leech - luff), span_axis)
    panel = np.linalg.norm(normal, axis=-1) + 1e-9
    area = panel.reshape(by_strip).sum(axis=-1)
    length = np.maximum(np.linalg.norm(chord, axis=-1), 1e-6)
    met = stream.reshape(*by_strip, 3).mean(axis=-2)
    speed = np.maximum(np.linalg.norm(cross(met, span_axis), axis=-1), 1e-6)
    across = cross(chord / length[..., None], span_axis)
    belly = np.sum((strips.belly @ nodes - 0.5 * (luff + leech)) * across, axis=-1) / length
    along = np.sum(met * chord, axis=-1) / (length * speed)
    sense = np.tanh(belly @ strips.whole.T / 0.01)
    return StripGeometry(
        length, area / length, met, speed, sense, panel, nose_holds(strips.nose / length),
        chord, span_axis, from_leech(along),
    )  # fmt: skip


def own_influence(strips: Strips, geometry: StripGeometry) -> FloatArray:
    """Return each strip's two-dimensional influence on itself.

    Parameters
    ----------
    strips : Strips
    geometry : StripGeometry
        Chords and panel areas. [m, m²]

    Returns
    -------
    (..., s, panels, panels) array
        Flow through each panel by the strip's rings of unit circulation. [m]
    """
    area = geometry.panel.reshape(*geometry.chord.shape, strips.panels)
    own: FloatArray = strips.kernel * (area / geometry.chord[..., None])[..., None]
    return own
