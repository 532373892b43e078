"""Reads JSON of ours by the PyPI library `jsonschema`. Each `X.json` of the demo's packet must fit `X.schema.json` beside it,
and that must be a schema of JSON Schema 2020-12. The findings of all demos as SARIF must fit the schema of SARIF 2.1.0 that the
npm package `@microsoft/jest-sarif` carries; one that has lost its driver must not.

usage: schemas.py PROGRAM"""

import copy
import json
import pathlib
import subprocess
import sys
import tarfile
import tempfile

import jsonschema


def sarif_schema():
    """The published schema, out of the package."""
    with tempfile.TemporaryDirectory() as folder:
        pack = ["npm", "pack", "--silent", "@microsoft/jest-sarif@1.0.0-beta.0"]
        name = subprocess.run(pack, cwd=folder, check=True, capture_output=True, text=True).stdout.split()[-1]
        with tarfile.open(pathlib.Path(folder, name)) as package:
            return json.load(package.extractfile("package/lib/schemas/sarif-2.1.0-rtm.5.json"))


checked = 0
for path in sorted(pathlib.Path("out").rglob("*.schema.json")):
    schema = json.loads(path.read_text())
    document = json.loads(path.with_name(path.name.replace(".schema.json", ".json")).read_text())
    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.Draft202012Validator(schema).validate(document)
    checked += 1
assert checked, "there is no schema in out/"

validator = jsonschema.Draft4Validator(sarif_schema())
with tempfile.TemporaryDirectory() as broken:
    # Errors with fixes too, which the demos do not have.
    pathlib.Path(broken, "site.kdl").write_text('site "é" {\n    revison "A"\n}\nlevel "x" ceiling=8 { room "a"; }\n')
    command = [sys.argv[1], "check", "specs", broken, "--as", "sarif"]
    told = subprocess.run(command, capture_output=True, text=True)
assert told.returncode == 1, told.stderr
log = json.loads(told.stdout)
validator.validate(log)
results = log["runs"][0]["results"]
assert any("fixes" in result for result in results) and any("suppressions" in result for result in results)
lost = copy.deepcopy(log)
del lost["runs"][0]["tool"]["driver"]
assert not validator.is_valid(lost)
print(f"{checked} documents fit their schemas, {len(results)} findings that of SARIF")
