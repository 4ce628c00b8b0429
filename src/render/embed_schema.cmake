# Writes a C++ file that holds the JSON Schema as text.
#   cmake -DOUT=file.cpp -DSCHEMA=weighing.schema.json -P embed_schema.cmake
if(NOT OUT OR NOT SCHEMA)
  message(FATAL_ERROR "embed_schema.cmake needs -DOUT=file.cpp and -DSCHEMA=file.json")
endif()

file(READ "${SCHEMA}" text)
string(FIND "${text}" ")schema\"" end_mark)
if(NOT end_mark EQUAL -1)
  message(FATAL_ERROR "${SCHEMA} holds the end mark of the string literal it is put into")
endif()
set(code "// Written by src/render/embed_schema.cmake from weighing.schema.json: change that.\n")
string(APPEND code "#include \"mendworth/render.hpp\"\n\nnamespace mendworth {\n\n")
string(APPEND code "const std::string& weighing_schema() {\n")
string(APPEND code "  static const std::string text = R\"schema(${text})schema\";\n  return text;\n}\n\n}  // namespace mendworth\n")
file(WRITE "${OUT}" "${code}")
