# Writes a C++ file with a function of render.hpp that gives a JSON Schema as text.
#   cmake -DOUT=file.cpp -DSCHEMA=weighing.schema.json -DFUNCTION=weighing_schema -P embed_schema.cmake
if(NOT OUT OR NOT SCHEMA OR NOT FUNCTION)
  message(FATAL_ERROR "embed_schema.cmake needs -DOUT=file.cpp, -DSCHEMA=file.json and -DFUNCTION=name")
endif()

file(READ "${SCHEMA}" text)
string(FIND "${text}" ")schema\"" end_mark)
if(NOT end_mark EQUAL -1)
  message(FATAL_ERROR "${SCHEMA} holds the end mark of the string literal it is put into")
endif()
get_filename_component(name "${SCHEMA}" NAME)
set(code "// Written by src/render/embed_schema.cmake from ${name}: change that.\n")
string(APPEND code "#include \"mendworth/render.hpp\"\n\nnamespace mendworth {\n\n")
string(APPEND code "const std::string& ${FUNCTION}() {\n")
string(APPEND code "  static const std::string text = R\"schema(${text})schema\";\n  return text;\n}\n\n}  // namespace mendworth\n")
file(WRITE "${OUT}" "${code}")
