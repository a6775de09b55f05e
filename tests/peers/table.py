# SPDX-License-Identifier: MIT
"""Columns of the driver's file: one line of names, then rows of doubles."""
import numpy as np


class Columns:
    """Columns by name; a selection of rows is taken from a column when it is first asked for."""

    def __init__(self, base, rows=None, count=0):
        self._base, self._rows, self._count, self._taken = base, rows, count, {}

    def __len__(self):
        return self._count

    def __getitem__(self, name):
        if self._rows is None:
            return self._base[name]
        if name not in self._taken:
            self._taken[name] = self._base[name][self._rows]
        return self._taken[name]

    def take(self, rows):
        if len(rows) == self._count:
            return self
        return Columns(self._base, rows if self._rows is None else self._rows[rows], len(rows))


def read(path):
    with open(path, "rb") as file:
        names = file.readline().decode().split()
        table = np.frombuffer(file.read(), dtype=np.float64).reshape(-1, len(names))
    columns = np.ascontiguousarray(table.T)
    return Columns(dict(zip(names, columns)), None, len(table)), names


def block(columns, names, start, stop):
    """Some rows as a table of its own."""
    return Columns({name: np.ascontiguousarray(columns[name][start:stop]) for name in names}, None, stop - start)
