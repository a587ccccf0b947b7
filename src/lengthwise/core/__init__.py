"""The compiled core: kernels in C over many positions, one door to them (door.py), and how they are built (build.py)."""
