"""python -m sheetgen"""

from sheetgen.cli import main

if __name__ == "__main__":
    main(prog_name="sheetgen")
