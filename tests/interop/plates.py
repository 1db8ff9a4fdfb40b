"""Plates solved by the service and by a general library of finite elements, each on its own mesh.

    python tests/interop/plates.py path/to/fishplated

The library takes other elements: Argyris triangles for thin plates, quadratic quadrilaterals for
sheets in their plane.
"""

import math
import sys
import unittest

import numpy as np
import skfem
from skfem.helpers import dd, ddot, eye, sym_grad, trace

from run import Client, Server

HELD = "SUPPORT_ACTION_HELD"
ALL = "xyzXYZ"
IN_PLANE = "zXY"


def material(modulus, poisson):
    shear = modulus / (2 * (1 + poisson))
    return {"id": "m", "youngsModulusMpa": modulus, "shearModulusMpa": shear}


def support(node, what):
    names = {"x": "moveX", "y": "moveY", "z": "moveZ", "X": "turnX", "Y": "turnY", "Z": "turnZ"}
    held = {names[way]: HELD if way.islower() else True for way in what}
    return {"nodeId": node, **held}


def grid(n, place):
    """Nodes and elements of n by n quadrilaterals over the unit square."""
    nodes = {f"{i} {j}": place(i / n, j / n) for j in range(n + 1) for i in range(n + 1)}
    ring = ((0, 0), (1, 0), (1, 1), (0, 1))
    elements = [
        [f"{i + a} {j + b}" for a, b in ring] for j in range(n) for i in range(n)
    ]
    return nodes, elements


def structure(nodes, elements, thickness, of, held, **loads):
    """A request about one plate; `held` says by node what is held."""
    return {
        "nodes": [
            {"id": name, "position": {"xMm": x, "yMm": y}} for name, (x, y) in nodes.items()
        ],
        "materials": [of],
        "plates": [
            {
                "id": "plate",
                "materialId": "m",
                "thicknessMm": thickness,
                "elements": [{"nodeIds": corners} for corners in elements],
            }
        ],
        "plateResults": {"stressPlateIds": ["plate"]},
        "supports": [support(node, what) for node, what in held.items() if what],
        "loadCases": [{"id": "LC", **loads}],
    }


def along(path, force):
    """A force per length along neighbouring nodes."""
    vector = {"x": force[0], "y": force[1]}
    ends = {"fromNPerMm": vector, "toNPerMm": vector}
    return [
        {"fromNodeId": start, "toNodeId": end, **ends} for start, end in zip(path, path[1:])
    ]


def thin_square(clamped, poisson, refined):
    """w D / (q a^4) at the centre of a square plate by Argyris elements."""
    mesh = skfem.MeshTri.init_sqsymmetric().refined(refined)
    basis = skfem.Basis(mesh, skfem.ElementTriArgyris())

    @skfem.BilinearForm
    def bending(u, v, _):
        moments = (1 - poisson) * dd(u) + poisson * eye(trace(dd(u)), 2)
        return ddot(moments, dd(v))

    @skfem.LinearForm
    def pressure(v, _):
        return 1.0 * v

    rim = basis.get_dofs()
    if clamped:
        held = np.concatenate([rim.all(name) for name in ("u", "u_x", "u_y", "u_n")])
    else:
        held = rim.all("u")
    system = skfem.condense(bending.assemble(basis), pressure.assemble(basis), D=held)
    return (basis.probes(np.array([[0.5], [0.5]])) @ skfem.solve(*system))[0]


def sheet(mesh, modulus, poisson, held, pulled, force):
    """Basis and movements of a sheet in its plane, 1 thick, by quadratic quadrilaterals."""
    element = skfem.ElementVector(skfem.ElementQuad2())
    basis = skfem.Basis(mesh, element, intorder=4)
    edge = skfem.FacetBasis(mesh, element, facets=pulled, intorder=4)
    factor = modulus / (1 - poisson**2)

    @skfem.BilinearForm
    def stretching(u, v, _):
        strain = sym_grad(u)
        stress = factor * ((1 - poisson) * strain + poisson * eye(trace(strain), 2))
        return ddot(stress, sym_grad(v))

    @skfem.LinearForm
    def traction(v, _):
        return force[0] * v[0] + force[1] * v[1]

    fixed = basis.get_dofs(held).all()
    system = skfem.condense(stretching.assemble(basis), traction.assemble(edge), D=fixed)
    return basis, edge, skfem.solve(*system)


class Plates(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.server = Server(cls.program)
        cls.client = Client(cls.server.address)

    @classmethod
    def tearDownClass(cls):
        cls.client.close()
        cls.server.stop()

    def solved(self, request):
        message = self.client.message("SolveStructureRequest", **request)
        answer = self.client.call("SolverService", "SolveStructure", message)
        case = answer.static_cases[0]
        return case, {moved.node_id: moved for moved in case.movements}

    def agree(self, told, service, library, tolerance):
        off = service / library - 1
        print(f"{told}: service {service:.6g}, library {library:.6g}, {off:+.2%}", flush=True)
        self.assertLess(abs(off), tolerance, told)

    def test_square_plates_bend_alike(self):
        side, thickness, modulus, poisson, pressure, n = 500, 1, 210_000, 0.3, 1e-4, 32
        nodes, elements = grid(n, lambda u, v: (side * u, side * v))
        unit = pressure * side**4 * 12 * (1 - poisson**2) / (modulus * thickness**3)
        for clamped in (False, True):
            held = {}
            for name, (x, y) in nodes.items():
                across, beside = x in (0, side), y in (0, side)
                what = ""
                if clamped and (across or beside):
                    what = ALL
                elif across or beside:
                    what = "xyz" + "X" * across + "Y" * beside
                held[name] = what
            load = {"plateId": "plate", "normalMpa": pressure}
            of = material(modulus, poisson)
            request = structure(nodes, elements, thickness, of, held, faceLoads=[load])
            _, moved = self.solved(request)
            service = moved[f"{n // 2} {n // 2}"].move_z_mm / unit
            told = "clamped square" if clamped else "supported square"
            self.agree(told, service, thin_square(clamped, poisson, 3), 0.005)

    def test_tapered_membranes_shear_alike(self):
        def place(u, v):
            return 48 * u, 44 * u + v * (44 - 28 * u)

        n, modulus, poisson, force = 32, 1, 1 / 3, 1 / 16
        nodes, elements = grid(n, place)
        held = {name: ALL if x == 0 else IN_PLANE for name, (x, _) in nodes.items()}
        loads = along([f"{n} {j}" for j in range(n + 1)], (0, force))
        of = material(modulus, poisson)
        _, moved = self.solved(structure(nodes, elements, 1, of, held, edgeLoads=loads))
        mesh = skfem.MeshQuad.init_tensor(*[np.linspace(0, 1, n + 1)] * 2)
        mesh = skfem.MeshQuad(np.array(place(*mesh.p)), mesh.t)
        clamped = mesh.facets_satisfying(lambda x: x[0] < 1e-9)
        pulled = mesh.facets_satisfying(lambda x: x[0] > 48 - 1e-9)
        basis, _, movement = sheet(mesh, modulus, poisson, clamped, pulled, (0, force))
        library = (basis.probes(np.array([[48 - 1e-9], [52.0]])) @ movement)[1]
        self.agree("tapered membrane", moved[f"{n} {n // 2}"].move_y_mm, library, 0.005)

    def test_a_trapezoid_with_a_hole_is_pulled_alike(self):
        corners = [(0, 0), (120, 20), (120, 80), (0, 100)]
        centre, radius, modulus, poisson, force = (60, 50), 15, 210_000, 0.3, 100
        outline = {
            "name": "trapezoid",
            "edges": [
                {"name": name, "start": {"xMm": x, "yMm": y}}
                for name, (x, y) in zip(("lower", "right", "upper", "left"), corners)
            ],
            "holes": [
                {
                    "name": "hole",
                    "round": {
                        "centre": {"xMm": centre[0], "yMm": centre[1]},
                        "diameterMm": 2 * radius,
                    },
                }
            ],
        }
        sizing = {"targetMm": 5, "aroundHoles": 64}
        asked = self.client.message("MeshPlateRequest", outline=outline, sizing=sizing)
        mesh = self.client.call("SolverService", "MeshPlate", asked)
        nodes = {node.id: (node.position.x_mm, node.position.y_mm) for node in mesh.nodes}
        marks = {mark.name: list(mark.node_ids) for mark in mesh.marks}
        held = {name: ALL if name in marks["left"] else IN_PLANE for name in nodes}
        elements = [list(element.node_ids) for element in mesh.elements]
        loads = along(marks["right"], (force, 0))
        of = material(modulus, poisson)
        case, moved = self.solved(structure(nodes, elements, 1, of, held, edgeLoads=loads))
        right = marks["right"]
        stretched = np.trapezoid(
            [moved[name].move_x_mm for name in right], [nodes[name][1] for name in right]
        )
        peak = max(
            node.forces.middle.principal_1_mpa
            for node in case.plate_stresses[0].nodes
            if node.node_id in marks["hole"]
        )

        basis, edge, movement = self.sheet_round_a_hole(
            corners, centre, radius, modulus, poisson, force
        )
        x = edge.interpolate(movement)
        library = float(np.sum(x[0] * edge.dx))
        self.agree("trapezoid, mean movement", stretched / 60, library / 60, 0.005)
        # The stress at the rim, where it is largest, from the elements that reach it.
        strain = sym_grad(basis.interpolate(movement))
        factor = modulus / (1 - poisson**2)
        stress = factor * ((1 - poisson) * strain + poisson * eye(trace(strain), 2))
        middle, half = (stress[0, 0] + stress[1, 1]) / 2, (stress[0, 0] - stress[1, 1]) / 2
        highest = float(np.max(middle + np.hypot(half, stress[0, 1])))
        self.agree("trapezoid, stress at the hole", peak, highest, 0.03)

    @staticmethod
    def sheet_round_a_hole(corners, centre, radius, modulus, poisson, force):
        """The trapezoid on rings of quadrilaterals, closer to each other towards the hole."""
        around, rings = 128, 32
        sides = []
        for (x, y), (to_x, to_y) in zip(corners, corners[1:] + corners[:1]):
            part = np.arange(around // 4) / (around // 4)
            sides.append([x + part * (to_x - x), y + part * (to_y - y)])
        outer = np.concatenate(sides, axis=1)
        angle = np.arctan2(outer[1] - centre[1], outer[0] - centre[0])
        hole = np.array([centre[0] + radius * np.cos(angle), centre[1] + radius * np.sin(angle)])
        grading = [math.expm1(3 * ring / rings) / math.expm1(3) for ring in range(rings + 1)]
        points = np.concatenate([hole + part * (outer - hole) for part in grading], axis=1)
        quads = [
            (
                ring * around + k,
                (ring + 1) * around + k,
                (ring + 1) * around + (k + 1) % around,
                ring * around + (k + 1) % around,
            )
            for ring in range(rings)
            for k in range(around)
        ]
        mesh = skfem.MeshQuad(points, np.array(quads).T)
        clamped = mesh.facets_satisfying(lambda x: x[0] < 1e-9)
        pulled = mesh.facets_satisfying(lambda x: x[0] > 120 - 1e-9)
        return sheet(mesh, modulus, poisson, clamped, pulled, (force, 0))


if __name__ == "__main__":
    if len(sys.argv) < 2:
        sys.exit("usage: plates.py path/to/fishplated")
    Plates.program = sys.argv.pop(1)
    unittest.main(verbosity=2)
