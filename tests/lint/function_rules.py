# How long functions are: C++ and C# by matching braces, Python by its own parser. A heuristic that
# errs on the side of counting; a data table is let off by the mark  // lint: table  inside it or
# on the line above.
import ast
import re

FUNCTION_LINES_MAX = 70
TABLE_MARK = "lint: table"

_CONTAINER = re.compile(r"\b(namespace|class|struct|union|enum|extern|interface)\b[^()]*$")
_TEMPLATE = re.compile(r"\btemplate\s*<[^{};]*?>\s*(?=[\w\[:~])")


def _opens_container(head):
    return bool(_CONTAINER.search(_TEMPLATE.sub("", head)))


def _opens_data(head):
    """`name = {`, `name[] {`, `Type name{`: nothing that is called."""
    return bool(head.strip()) and "(" not in head and ")" not in head


def braced_functions(bare):
    """Yields (first line, last line, head) of each outermost function body of blanked text."""
    stack = []  # one kind for each open brace: "container", "function" or "inner"
    start = None
    head_from = 0
    for match in re.finditer(r"[{};]", bare):
        sign, at = match.group(0), match.start()
        inside = "function" in stack or "data" in stack
        if sign == "{":
            head = bare[head_from:at]
            if inside:
                stack.append("inner")
            elif _opens_container(head):
                stack.append("container")
            elif _opens_data(head) or head.rstrip().endswith("="):
                stack.append("data")
            else:
                stack.append("function")
                start = (head_from + len(head) - len(head.lstrip()), head)
        elif sign == "}" and stack:
            kind = stack.pop()
            if kind == "function":
                first = bare.count("\n", 0, start[0]) + 1
                yield (first, bare.count("\n", 0, at) + 1, start[1])
        head_from = at + 1


def _name_of(head):
    names = re.findall(r"([\w:~]+)\s*\(", head)
    return names[0] if names else "a function"


def braced_complaints(source):
    lines = source.text.split("\n")
    for first, last, head in braced_functions(source.bare):
        length = last - first + 1
        if length <= FUNCTION_LINES_MAX:
            continue
        if any(TABLE_MARK in line for line in lines[max(first - 2, 0):last]):
            continue
        yield (first, f"{_name_of(head)} is {length} lines, limit {FUNCTION_LINES_MAX}: split it, "
                      f"or mark a table with  // {TABLE_MARK}")


def python_complaints(source):
    for node in ast.walk(ast.parse(source.text)):
        if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef)):
            length = node.end_lineno - node.lineno + 1
            if length > FUNCTION_LINES_MAX:
                yield (node.lineno, f"{node.name} is {length} lines, limit {FUNCTION_LINES_MAX}")


def complaints_of(source):
    if source.is_braced:
        yield from braced_complaints(source)
    elif source.suffix == ".py":
        try:
            yield from python_complaints(source)
        except SyntaxError as error:
            yield (error.lineno or 1, f"python cannot read it: {error.msg}")
