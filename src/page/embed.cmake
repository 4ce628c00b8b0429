# Writes a C++ file that holds what the browser gets as text.
#   cmake -DOUT=file.cpp -DFOLDER=src/page -P embed.cmake
if(NOT OUT OR NOT FOLDER)
  message(FATAL_ERROR "embed.cmake needs -DOUT=file.cpp and -DFOLDER=folder of page.html, page.css, page.js")
endif()

set(code "// Written by src/page/embed.cmake from page.html, page.css and page.js: change those.\n")
string(APPEND code "#include \"page/page_files.hpp\"\n\nnamespace mendworth::page {\n\n")
foreach(kind IN ITEMS html css js)
  # Read as it stands: a semicolon parts no list here.
  file(READ "${FOLDER}/page.${kind}" text)
  string(FIND "${text}" ")page\"" end_mark)
  if(NOT end_mark EQUAL -1)
    message(FATAL_ERROR "page.${kind} holds the end mark of the string literal it is put into")
  endif()
  string(APPEND code "std::string_view page_${kind}() { return R\"page(${text})page\"; }\n\n")
endforeach()
string(APPEND code "}  // namespace mendworth::page\n")
file(WRITE "${OUT}" "${code}")
