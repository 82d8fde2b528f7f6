"""The fitted network as a small ONNX file: weights as whole numbers of eight bits, computed as floats.

Each row of a weight has its own scale, so that little is lost; arithmetic in eight bits was measured two points worse.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import onnx
import torch
from onnx import helper, numpy_helper

_LEAST = 4096  # smaller ones stay floats


def exported(network: torch.nn.Module, path: Path) -> None:
    """Write the network to `path`."""
    network = network.cpu().float().eval()
    size = (2, 12)
    ones = torch.ones(size, dtype=torch.long)
    inputs = (ones, ones, torch.zeros(size, dtype=torch.long))
    names = ("pieces", "mask", "kinds")
    open_axes = {name: {0: "batch", 1: "length"} for name in (*names, "tags")} | {"classes": {0: "batch"}}
    torch.onnx.export(
        network, inputs, path, input_names=list(names), output_names=["classes", "tags"], dynamic_axes=open_axes,
        opset_version=17, dynamo=False,
    )  # fmt: skip
    model = onnx.load(path)
    quantised(model)
    onnx.save(model, path)


def quantised(model: onnx.ModelProto) -> None:
    """Every large weight as eight-bit numbers with a scale for each column (each row of a table that is looked up)."""
    graph = model.graph
    looked_up = {node.input[0] for node in graph.node if node.op_type == "Gather"}
    transposed = {node.input[1] for node in graph.node if node.op_type == "Gemm" and _attribute(node, "transB")}
    added = []
    for weight in list(graph.initializer):
        array = numpy_helper.to_array(weight)
        if array.ndim != 2 or array.size < _LEAST or array.dtype != np.float32:
            continue
        axis = 0 if weight.name in looked_up | transposed else 1
        scale = np.maximum(np.abs(array).max(1 - axis, keepdims=True), 1e-8) / 127
        whole = np.clip(np.round(array / scale), -127, 127).astype(np.int8)
        small, scales = f"{weight.name}.int8", f"{weight.name}.scale"
        graph.initializer.remove(weight)
        graph.initializer.append(numpy_helper.from_array(whole, small))
        graph.initializer.append(numpy_helper.from_array(scale.reshape(-1).astype(np.float32), scales))
        added.append(helper.make_node("DequantizeLinear", [small, scales], [weight.name], axis=axis))
    for node in reversed(added):
        graph.node.insert(0, node)


def _attribute(node: onnx.NodeProto, name: str) -> int:
    return next((attribute.i for attribute in node.attribute if attribute.name == name), 0)


def restored(path: Path) -> dict[str, torch.Tensor]:
    """The weights of a network that was exported, by their names in the network: to go on from them."""
    graph = onnx.load(path).graph
    arrays = {weight.name: numpy_helper.to_array(weight) for weight in graph.initializer}
    state: dict[str, np.ndarray] = {name: array for name, array in arrays.items() if "::" not in name}
    for name in [name for name in arrays if name.endswith(".int8")]:
        plain = name.removesuffix(".int8")
        whole, scale = arrays[name].astype(np.float32), arrays[f"{plain}.scale"]
        by_row = len(scale) == len(whole) and "::" not in plain
        state[plain] = whole * (scale[:, None] if by_row else scale[None, :])
    for node in graph.node:
        if node.op_type == "MatMul" and node.input[1] in state:
            state[node.name.strip("/").replace("/", ".").removesuffix("MatMul") + "weight"] = state[node.input[1]].T
    return {
        name: torch.from_numpy(np.ascontiguousarray(array))
        for name, array in state.items()
        if "::" not in name and not name.endswith((".int8", ".scale"))
    }
