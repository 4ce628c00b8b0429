# With CMAKE_UNITY_BUILD the files of a batch are compiled as one: the headers they share, which are most of the work, are
# parsed once a batch. Names in their anonymous namespaces must then differ. Without it, as in a plain `cmake -B`, every
# file is compiled alone, so each still includes what it needs.
#   mendworth_batches(NAME MOST_FILES source...)
function(mendworth_batches name most)
  list(LENGTH ARGN count)
  math(EXPR batches "(${count} + ${most} - 1) / ${most}")
  set(index 0)
  foreach(source IN LISTS ARGN)
    math(EXPR batch "${index} * ${batches} / ${count}")
    set_source_files_properties(${source} PROPERTIES UNITY_GROUP ${name}_${batch})
    math(EXPR index "${index} + 1")
  endforeach()
endfunction()
