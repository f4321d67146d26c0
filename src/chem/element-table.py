#!/usr/bin/env python3
"""Write the table of atomic weights as C. usage: element-table.py CSV C-FILE"""

import csv
import sys


def main():
    source, target = sys.argv[1:]
    with open(source, encoding="utf-8") as file:
        rows = list(csv.DictReader(line for line in file if not line.startswith("#")))
    with open(target, "w", encoding="utf-8") as file:
        file.write('#include "config.h"\n\n#include "chem/element-table.h"\n\n')
        file.write("const SherdElement sherd_element_table[SHERD_N_ATOMIC_NUMBERS] = {\n")
        for row in rows:
            file.write('  [{number}] = {{ {number}, "{symbol}", "{name}", {weight}, {half_width} }},\n'.format(**row))
        file.write("};\n")


if __name__ == "__main__":
    main()
