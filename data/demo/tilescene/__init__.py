# SPDX-License-Identifier: GPL-3.0-or-later
"""Rendered photographs of painted test tiles whose every colour is known."""
