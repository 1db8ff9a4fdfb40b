"""A client of another make: it knows the contract by reflection alone.

    python tests/interop/run.py path/to/fishplated path/to/fishplate
"""

import json
import pathlib
import subprocess
import sys
import unittest

import grpc
from google.protobuf import json_format, message_factory
from google.protobuf.descriptor_pool import DescriptorPool
from google.rpc import error_details_pb2
from grpc_health.v1 import health_pb2, health_pb2_grpc
from grpc_reflection.v1alpha.proto_reflection_descriptor_database import (
    ProtoReflectionDescriptorDatabase,
)
from grpc_status import rpc_status

ROOT = pathlib.Path(__file__).resolve().parents[2]
PACKAGE = "fishplate.v1"
SERVICES = [
    "CatalogService",
    "CheckService",
    "SolverService",
    "StrengthService",
    "StudyService",
]


class Server:
    """The program under test, on a free port."""

    def __init__(self, program):
        command = [program, "--listen", "127.0.0.1:0", "--drain", "1"]
        self.process = subprocess.Popen(
            command, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True
        )
        self.address = self.process.stdout.readline().strip()

    def stop(self):
        self.process.terminate()
        self.process.stdout.close()
        return self.process.wait(timeout=20)


class Client:
    """Calls by the names of services and fields, learned from the server."""

    def __init__(self, address):
        self.channel = grpc.insecure_channel(address)
        self.known = ProtoReflectionDescriptorDatabase(self.channel)
        self.pool = DescriptorPool(self.known)

    def message(self, name, **fields):
        descriptor = self.pool.FindMessageTypeByName(f"{PACKAGE}.{name}")
        return json_format.ParseDict(fields, message_factory.GetMessageClass(descriptor)())

    def call(self, service, method, request, timeout=30):
        found = self.pool.FindServiceByName(f"{PACKAGE}.{service}").methods_by_name[method]
        answer = message_factory.GetMessageClass(found.output_type)
        path = f"/{PACKAGE}.{service}/{method}"
        stub = self.channel.unary_unary(
            path,
            request_serializer=lambda message: message.SerializeToString(),
            response_deserializer=answer.FromString,
        )
        return stub(request, timeout=timeout)

    def close(self):
        self.channel.close()


def details(error):
    """The details of a refusal, by type."""
    status = rpc_status.from_call(error)
    kinds = {
        "google.rpc.BadRequest": error_details_pb2.BadRequest,
        "google.rpc.ErrorInfo": error_details_pb2.ErrorInfo,
        "google.rpc.PreconditionFailure": error_details_pb2.PreconditionFailure,
    }
    found = {}
    for detail in status.details:
        name = detail.type_url.split("/")[-1]
        found[name] = kinds[name].FromString(detail.value)
    return found


def cantilever(**support):
    """1 m of a steel section along x, 1 kN down at its tip."""
    steel = {"id": "steel", "youngsModulusMpa": 210000, "shearModulusMpa": 80769.23}
    values = {"areaMm2": 600, "iYMm4": 2e5, "iZMm4": 1.1e5, "torsionConstantMm4": 2.2e5}
    return {
        "nodes": [
            {"id": "root", "position": {}},
            {"id": "tip", "position": {"xMm": 1000}},
        ],
        "sections": [{"id": "s", "values": values, "rigidInShear": True}],
        "materials": [steel],
        "beams": [
            {
                "id": "b",
                "startNodeId": "root",
                "endNodeId": "tip",
                "sectionId": "s",
                "materialId": "steel",
            }
        ],
        "supports": [{"nodeId": "root", **support}],
        "loadCases": [
            {"id": "LC1", "nodalLoads": [{"nodeId": "tip", "load": {"forceZN": -1000}}]}
        ],
    }


HELD = {f"move{axis}": "SUPPORT_ACTION_HELD" for axis in "XYZ"} | {
    f"turn{axis}": True for axis in "XYZ"
}


class Interop(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.server = Server(cls.program)
        cls.client = Client(cls.server.address)

    @classmethod
    def tearDownClass(cls):
        cls.client.close()
        code = cls.server.stop()
        if code != 0:
            raise AssertionError(f"the server ended with {code} when asked to stop")

    def refused(self, service, method, request, timeout=30):
        with self.assertRaises(grpc.RpcError) as caught:
            self.client.call(service, method, request, timeout)
        return caught.exception

    def test_services_are_listed(self):
        names = set(self.client.known.get_services())
        for service in SERVICES:
            self.assertIn(f"{PACKAGE}.{service}", names)
        self.assertIn("grpc.health.v1.Health", names)

    def test_a_cantilever_bends_by_pl3_over_3ei(self):
        request = self.client.message("SolveStructureRequest", **cantilever(**HELD))
        answer = self.client.call("SolverService", "SolveStructure", request)
        tip = {m.node_id: m for m in answer.static_cases[0].movements}["tip"]
        # Roark's Formulas for Stress and Strain, 7th ed., Table 8.1 case 1a, from memory.
        self.assertAlmostEqual(tip.move_z_mm, -1000 * 1000**3 / (3 * 210000 * 2e5), delta=1e-8)

    def test_a_mechanism_names_its_node(self):
        loose = {key: value for key, value in HELD.items() if key != "turnY"}
        request = self.client.message("SolveStructureRequest", **cantilever(**loose))
        error = self.refused("SolverService", "SolveStructure", request)
        self.assertEqual(error.code(), grpc.StatusCode.FAILED_PRECONDITION)
        found = details(error)
        self.assertEqual(found["google.rpc.ErrorInfo"].reason, "MECHANISM")
        self.assertIn(found["google.rpc.ErrorInfo"].metadata["node"], ("root", "tip"))
        self.assertTrue(found["google.rpc.PreconditionFailure"].violations)

    def test_a_bad_project_is_refused_field_by_field(self):
        project = {"title": "nothing in it"}
        request = self.client.message("CheckProjectRequest", project=project)
        error = self.refused("CheckService", "CheckProject", request)
        self.assertEqual(error.code(), grpc.StatusCode.INVALID_ARGUMENT)
        found = details(error)
        fields = {v.field: v.description for v in found["google.rpc.BadRequest"].field_violations}
        for field in ("project.rules", "project.car", "project.springs", "project.cradle"):
            self.assertIn(field, fields)
            self.assertIn("allowed", fields[field])
        self.assertEqual(found["google.rpc.ErrorInfo"].domain, "fishplate")

    def test_a_catalogue_is_read_page_by_page(self):
        names, token, pages = [], "", 0
        while True:
            request = self.client.message("ListSectionsRequest", pageSize=7, pageToken=token)
            page = self.client.call("CatalogService", "ListSections", request)
            self.assertLessEqual(len(page.entries), 7)
            names += [entry.name for entry in page.entries]
            pages += 1
            token = page.next_page_token
            if not token:
                break
        self.assertGreater(pages, 2)
        self.assertEqual(len(names), len(set(names)))
        whole = self.client.message("ListSectionsRequest", pageSize=1000)
        whole = self.client.call("CatalogService", "ListSections", whole)
        self.assertEqual(names, [entry.name for entry in whole.entries])

    def test_a_page_token_of_ones_own_making_is_refused(self):
        request = self.client.message("ListSectionsRequest", pageToken="three")
        error = self.refused("CatalogService", "ListSections", request)
        self.assertEqual(error.code(), grpc.StatusCode.INVALID_ARGUMENT)
        fields = details(error)["google.rpc.BadRequest"].field_violations
        self.assertEqual([v.field for v in fields], ["page_token"])

    def test_health_is_told_by_service(self):
        stub = health_pb2_grpc.HealthStub(self.client.channel)
        serving = health_pb2.HealthCheckResponse.SERVING
        for service in ["", *(f"{PACKAGE}.{name}" for name in SERVICES)]:
            answer = stub.Check(health_pb2.HealthCheckRequest(service=service), timeout=30)
            self.assertEqual(answer.status, serving, service)
        with self.assertRaises(grpc.RpcError) as caught:
            stub.Check(health_pb2.HealthCheckRequest(service="nothing"), timeout=30)
        self.assertEqual(caught.exception.code(), grpc.StatusCode.NOT_FOUND)

    def test_a_deadline_ends_a_long_call(self):
        # A grid whose modes take far longer than the time allowed.
        side = 40
        grid = cantilever(**HELD)
        grid["nodes"] = [
            {"id": f"{i} {j}", "position": {"xMm": 100 * i, "yMm": 100 * j, "zMm": 3 * i * j}}
            for i in range(side)
            for j in range(side)
        ]
        member = {"sectionId": "s", "materialId": "steel"}
        along = [(f"{i} {j}", f"{i + 1} {j}") for i in range(side - 1) for j in range(side)]
        across = [(f"{i} {j}", f"{i} {j + 1}") for i in range(side) for j in range(side - 1)]
        grid["beams"] = [
            {"id": f"b{place}", "startNodeId": start, "endNodeId": end, **member}
            for place, (start, end) in enumerate(along + across)
        ]
        grid["supports"] = [{"nodeId": "0 0", **HELD}]
        load = {"nodeId": f"{side - 1} {side - 1}", "load": {"forceZN": -1}}
        grid["loadCases"] = [{"id": f"LC{n}", "nodalLoads": [load]} for n in range(20)]
        grid["materials"][0]["densityKgPerM3"] = 7850
        grid["frequencies"] = {"modeCount": 100, "elementsPerMember": 4}
        request = self.client.message("SolveStructureRequest", **grid)
        error = self.refused("SolverService", "SolveStructure", request, timeout=0.15)
        self.assertEqual(error.code(), grpc.StatusCode.DEADLINE_EXCEEDED)
        # The server is there for the next one.
        request = self.client.message("SolveStructureRequest", **cantilever(**HELD))
        self.client.call("SolverService", "SolveStructure", request)

    def test_the_demo_is_the_same_from_this_client_and_from_the_command_line(self):
        for name in ("van-a", "van-b", "van-c", "estate", "estate-base"):
            demo = ROOT / "clients/cli/demo" / f"{name}.toml"
            command = [self.command_line, "check", str(demo), "--json"]
            printed = subprocess.run(command, capture_output=True, timeout=60).stdout
            fixture = ROOT / "tests/data" / f"{name.replace('-', '_')}.json"
            project = json.loads(fixture.read_text())
            request = self.client.message("CheckProjectRequest", project=project)
            answer = self.client.call("CheckService", "CheckProject", request)
            asked = json.loads(printed)["stamp"]["projectHash"]
            self.assertEqual(answer.stamp.project_hash, asked, f"{fixture} is not {demo}")

    def test_a_method_that_is_not_there(self):
        stub = self.client.channel.unary_unary(f"/{PACKAGE}.SolverService/Nothing")
        with self.assertRaises(grpc.RpcError) as caught:
            stub(b"", timeout=30)
        self.assertEqual(caught.exception.code(), grpc.StatusCode.UNIMPLEMENTED)


if __name__ == "__main__":
    if len(sys.argv) < 3:
        sys.exit("usage: run.py path/to/fishplated path/to/fishplate")
    Interop.program, Interop.command_line = sys.argv.pop(1), sys.argv.pop(1)
    unittest.main(verbosity=2)
