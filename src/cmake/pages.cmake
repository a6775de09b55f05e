# SPDX-License-Identifier: MIT
# Manual pages and completions, as the program itself writes them: cmake -DPROGRAM=... -DOUT=... -P pages.cmake
function(keep name)
  execute_process(COMMAND "${PROGRAM}" ${ARGN} OUTPUT_FILE "${OUT}/new" COMMAND_ERROR_IS_FATAL ANY)
  get_filename_component(folder "${OUT}/${name}" DIRECTORY)
  file(MAKE_DIRECTORY "${folder}")
  file(RENAME "${OUT}/new" "${OUT}/${name}")
endfunction()

file(REMOVE_RECURSE "${OUT}")
file(MAKE_DIRECTORY "${OUT}")
keep(bash-completion/completions/curdwright shell bash)
keep(zsh/site-functions/_curdwright shell zsh)
keep(fish/vendor_completions.d/curdwright.fish shell fish)
keep(man/man1/curdwright.1 help --format man)
# What `help` explains: the first line says what kind of answer it is, the others begin with a name.
execute_process(COMMAND "${PROGRAM}" shell offer -- help "" OUTPUT_VARIABLE topics COMMAND_ERROR_IS_FATAL ANY)
string(REGEX MATCHALL "\n[a-z-]+" topics "${topics}")
foreach(topic IN LISTS topics)
  string(STRIP "${topic}" topic)
  execute_process(COMMAND "${PROGRAM}" help ${topic} --format man OUTPUT_VARIABLE page COMMAND_ERROR_IS_FATAL ANY)
  string(REGEX MATCH "^.TH [^ ]+ ([0-9])" head "${page}")
  keep(man/man${CMAKE_MATCH_1}/curdwright-${topic}.${CMAKE_MATCH_1} help ${topic} --format man)
endforeach()
