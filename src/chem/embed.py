#!/usr/bin/env python3
"""Write a file as a C array that ends with a zero. usage: embed.py FILE C-FILE NAME"""

import sys


def main():
    source, target, name = sys.argv[1:]
    with open(source, "rb") as file:
        data = file.read() + b"\0"
    with open(target, "w", encoding="utf-8") as file:
        file.write(f'#include "config.h"\n\n#include "chem/embedded.h"\n\nconst unsigned char {name}[] = {{')
        file.write(",".join(("\n  " if i % 20 == 0 else " ") + str(byte) for i, byte in enumerate(data)))
        file.write("\n};\n")


if __name__ == "__main__":
    main()
