/** Makes something of an object when it is first asked for, and keeps it as long as the object is there. */
export function onceFor<Of extends object, Made extends object>(make: (of: Of) => Made): (of: Of) => Made {
  const known = new WeakMap<Of, Made>();
  return (of) => {
    let made = known.get(of);
    if (made === undefined) {
      made = make(of);
      known.set(of, made);
    }
    return made;
  };
}
